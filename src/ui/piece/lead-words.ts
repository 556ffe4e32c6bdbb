import type { LeadState } from "~/core/safety/lead";

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
