export type GateSentenceProps = {
  /** "Handle Tue 05:15", "Press together since Sun 07:25", "No sanding". */
  head: string;
  /** "safe; likely Mon 23:45", then "holds: fronts, coat 2". */
  parts: string[];
};

/** One sentence in one order everywhere, also when read aloud. */
export function GateSentence({ head, parts }: GateSentenceProps) {
  return (
    <p className="sentence">
      <b>{head}</b>
      {parts.map((part) => ` - ${part}`).join("")}.
    </p>
  );
}
