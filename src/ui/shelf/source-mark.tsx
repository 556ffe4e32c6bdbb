import type { Source } from "./sheet-view";

/** Whether a figure was read from the can or is the usual one of its type: a word and a shape, then a colour. */
export function SourceMark({ source }: { source: Source }) {
  return (
    <span className="source-mark" data-source={source}>
      {source === "can" ? "can" : "typical"}
    </span>
  );
}
