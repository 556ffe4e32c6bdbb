import type { ReactNode } from "react";
import type { Finding, Mend } from "~/core/coating/schedule-findings";
import { type FindingNames, findingWords, mendWords } from "./finding-words";
import "./findings.css";

type FindingsListProps = {
  findings: readonly Finding[];
  names: FindingNames;
  /** The key of a mend that is one act; without one the mend is only said. */
  keyOf?: (finding: Finding, mend: Mend) => ReactNode;
};

/** What the check of a schedule found: what stops, what to mind, why, and what would mend it. */
export function FindingsList({ findings, names, keyOf }: FindingsListProps) {
  if (findings.length === 0) return null;
  return (
    // biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets
    <ul className="findings" role="list" aria-label="What the check of this schedule found">
      {findings.map((finding) => {
        const { found, why } = findingWords(finding, names);
        const mends = finding.mends.map((mend) => ({ mend, key: keyOf?.(finding, mend) }));
        const said = mends.filter(({ key }) => !key).map(({ mend }) => mendWords(mend, names));
        return (
          <li key={`${finding.kind} ${finding.coatIds.join(" ")}`} data-level={finding.level}>
            <p>
              <span className="finding-level">{finding.level === "stops" ? "Stops" : "Mind"}</span> <b>{found}</b>
            </p>
            <p className="why">{why}</p>
            {said.length > 0 && <p className="finding-mend">{`${said.join(", or: ")}.`}</p>}
            {mends.some(({ key }) => key) && <div className="keys">{mends.map(({ key }) => key)}</div>}
          </li>
        );
      })}
    </ul>
  );
}
