import { TriangleAlert } from "lucide-react";
import type { Caution } from "~/core/safety/cautions";
import { cautionWords, deferWords } from "./caution-words";
import "./cautions.css";

/** Shown where the work is done. They inform; the sheet, the local code and the licensed trade decide. */
export function Cautions({ cautions }: { cautions: readonly Caution[] }) {
  if (cautions.length === 0) return null;
  return (
    <section className="cautions" aria-label="Take care">
      <TriangleAlert aria-hidden="true" size={22} />
      <div>
        {cautions.map((caution) => (
          <p key={caution.id}>{cautionWords[caution.id]}</p>
        ))}
        <p className="why">{deferWords(cautions)}</p>
      </div>
    </section>
  );
}
