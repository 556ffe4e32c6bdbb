export type SpanHeadProps = { words: string; kind?: "plain" | "open" | "never" };

/** The head of a stretch of time: Now, Later today, Not by waiting. The line after it says which by its weight. */
export function SpanHead({ words, kind = "plain" }: SpanHeadProps) {
  return (
    <h2 className="span-head" data-kind={kind}>
      {words}
    </h2>
  );
}
