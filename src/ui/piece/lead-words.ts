import type { LeadState } from "~/core/safety/lead";
import { leadFinding, nobodySaidBanYear, partsPerMillionOf } from "~/core/safety/lead-limits";

export type LeadWords = { words: string; isCaution: boolean };

/** What is known about lead in old paint, and what follows for work on it. It informs; the local code decides. */
export const leadWords: Record<LeadState, LeadWords> = {
  "not-painted": { words: "No old paint", isCaution: false },
  "later-than-ban": { words: "Made after lead paint was banned", isCaution: false },
  negative: { words: "No lead found by a laboratory", isCaution: false },
  unknown: { words: "Not known. No dry sanding, no heat, no stripping until every layer is tested", isCaution: true },
  "screened-negative": {
    words: "A swab found none, which only screens. No dry sanding, no heat until a laboratory says so",
    isCaution: true,
  },
  positive: { words: "Lead found. No dry sanding, no heat; wet and contained only", isCaution: true },
  "treated-as-lead": { words: "Treated as lead. No dry sanding, no heat; wet and contained only", isCaution: true },
};

/** From which year on a piece's age clears its paint here. Where we know of no rule, somebody must ask the local one. */
export const leadYearWords = (leadBanYear: number): string =>
  leadBanYear >= nobodySaidBanYear
    ? "all old paint may hold it, until an owner writes the year of this country’s own rule"
    : `paint from before ${leadBanYear} may hold it`;

/** What a laboratory's percent by weight means by both limits of the United States; the local rule goes first. */
export function laboratoryWords(percent: number): string {
  const { isHousingLeadBased, isOverConsumerLimit } = leadFinding({ partsPerMillion: partsPerMillionOf(percent) });
  const found = `${percent} % lead by weight`;
  if (isHousingLeadBased) return `${found}: lead-based paint by the housing rule (0.5 % and over).`;
  return isOverConsumerLimit
    ? `${found}: under the housing rule’s 0.5 %, but over the 0.009 % that new paint on furniture may hold. It counts as lead.`
    : `${found}: not over the 0.009 % that new paint on furniture may hold.`;
}
