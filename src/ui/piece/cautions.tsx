import { TriangleAlert } from "lucide-react";
import type { Caution } from "~/core/safety/cautions";
import { cautionWords, deferWords, maskWords } from "./caution-words";
import "./cautions.css";

type CautionsProps = {
  cautions: readonly Caution[];
  /** How much air the work asks for, in words. */
  air?: string;
};

/** Shown where the work is done. They inform; the sheet, the local code and the licensed trade decide. */
export function Cautions({ cautions, air }: CautionsProps) {
  if (cautions.length === 0) return null;
  const mask = maskWords(cautions);
  return (
    <div className="cautions" role="note" aria-label="Take care">
      <TriangleAlert aria-hidden="true" size={22} />
      <div>
        {cautions.map((caution) => (
          <p key={caution.id}>{cautionWords[caution.id]}</p>
        ))}
        {mask && <p>{mask}</p>}
        {air && <p>{air}</p>}
        <p className="why">{deferWords(cautions)}</p>
      </div>
    </div>
  );
}
