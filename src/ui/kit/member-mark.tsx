export type MemberOutline = "disc" | "block" | "house" | "hexagon" | "arch" | "cup";

export type MemberMarkProps = {
  letter: string;
  outline: MemberOutline;
  /** Read aloud instead of the letter, when the shop knows a name or a role. */
  name?: string;
  size?: "small" | "plain" | "large" | "face";
};

/** A letter in the outline that the member picked: outline and letter tell people apart, never colour. */
export function MemberMark({ letter, outline, name, size = "plain" }: MemberMarkProps) {
  return (
    <span className="member-mark" data-outline={outline} data-size={size} role="img" aria-label={name ?? letter}>
      {letter}
    </span>
  );
}

/** The dashed ring: work that nobody has yet. The words "free to take" stand beside it. */
export function FreeMark({ size = "plain" }: Pick<MemberMarkProps, "size">) {
  return <span className="member-mark" data-outline="free" data-size={size} aria-hidden="true" />;
}
