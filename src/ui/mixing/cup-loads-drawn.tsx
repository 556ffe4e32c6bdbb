import type { CupLoads } from "~/core/coating/cup-loads";
import { volume } from "./amount-words";

/** More cups than this are said, not drawn. */
const mostDrawn = 6;

type CupLoadsDrawnProps = { cups: CupLoads; cupMillilitres: number };

/** The gun's cup, so many times full and once with the rest. */
export function CupLoadsDrawn({ cups, cupMillilitres }: CupLoadsDrawnProps) {
  const rest = cups.restMillilitres >= 0.5 ? [cups.restMillilitres] : [];
  const loads = [...Array.from({ length: Math.min(cups.fullCups, mostDrawn) }, () => cupMillilitres), ...rest];
  return (
    <div className="cup-loads">
      <p>{cupWords(cups, cupMillilitres)}</p>
      {cups.fullCups <= mostDrawn && (
        <ol aria-hidden="true">
          {loads.map((load, index) => (
            // biome-ignore lint/suspicious/noArrayIndexKey: cups have no names, only their turn
            <li key={index}>
              <i style={{ height: `${(100 * load) / cupMillilitres}%` }} />
              <b>{volume(load)}</b>
            </li>
          ))}
        </ol>
      )}
    </div>
  );
}

/** "2 full cups of 600 ml and one of 142 ml" */
export const cupWords = ({ fullCups, restMillilitres }: CupLoads, cupMillilitres: number): string => {
  const full =
    fullCups === 0 ? undefined : `${fullCups} full ${fullCups === 1 ? "cup" : "cups"} of ${cupMillilitres} ml`;
  const rest = restMillilitres >= 0.5 ? volume(restMillilitres) : undefined;
  if (full && rest) return `${full} and one of ${rest}`;
  return full ?? `One cup of ${rest ?? "0 ml"}`;
};
