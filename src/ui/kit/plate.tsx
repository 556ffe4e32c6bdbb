export type PlateProps = {
  /** The act that the gate is about: "Handle", "Press together", "No sanding". */
  action: string;
  /** A third line of words: "8 min left", "cold glue line". */
  detail?: string;
  /** What the time was before it changed. */
  was?: string;
  size?: "plain" | "large";
} & (
  | { form: "open"; since: string }
  /** No gate waits: where the piece stands, and since when. */
  | { form: "stands"; since: string }
  | { form: "soon" | "waiting" | "due"; time: string; likely?: string }
  | { form: "barred"; verb: string }
);

const bigWords = (plate: PlateProps) => {
  if (plate.form === "open" || plate.form === "stands") return `since ${plate.since}`;
  return plate.form === "barred" ? plate.verb : plate.time;
};

const smallWords = (plate: PlateProps) => {
  if (plate.detail !== undefined) return plate.detail;
  if (plate.form === "open") return "open now";
  // Where likely and safe coincide there is one time, and it is said once.
  if (plate.form === "barred" || plate.form === "stands" || plate.likely === undefined || plate.likely === plate.time)
    return undefined;
  return `likely ${plate.likely}`;
};

/** The next gate, readable from two metres. The big time is the safe one; nothing opens on the likely one. */
export function Plate(plate: PlateProps) {
  const small = smallWords(plate);
  return (
    <p className="plate" data-form={plate.form} data-size={plate.size ?? "plain"}>
      <span className="plate-action">{plate.action} </span>
      <span className="plate-time">
        {bigWords(plate)}
        {(plate.form === "soon" || plate.form === "waiting") && <span className="sr-only">, safe</span>}{" "}
      </span>
      {(small !== undefined || plate.was !== undefined) && (
        <span className="plate-small">
          {small}
          {small !== undefined && plate.was !== undefined && " · "}
          {plate.was !== undefined && (
            <span>
              was <s>{plate.was}</s>
            </span>
          )}
        </span>
      )}
    </p>
  );
}
