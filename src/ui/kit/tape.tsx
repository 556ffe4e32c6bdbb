import { PenLine } from "lucide-react";

export type TapeProps = {
  /** What was changed on this device: "your claim". */
  what?: string;
  /** Its place in the queue, with the time: "1st, 17:40". */
  place?: string;
};

/** Blue tape: kept on this device and not sent yet. */
export function Tape({ what, place }: TapeProps) {
  const kept = [what, place].filter((words) => words !== undefined).join(", ");
  return (
    <span className="tape">
      {what !== undefined && <PenLine aria-hidden="true" size={16} />}
      {kept === "" ? "not sent" : `${kept} · not sent`}
    </span>
  );
}
