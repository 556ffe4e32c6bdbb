/**
 * Every refusal in words: what was found, what is needed, until when, what instead. Typed by the union's `kind`, so a new
 * refusal without words does not compile. No blame, no codes.
 */
import type { Refusal } from "~/core/shop/refusal";
import { filmWords } from "./wording/film";
import { formWords } from "./wording/form";
import { gateWords } from "./wording/gates";
import { hourWords } from "./wording/hours";
import { safetyWords } from "./wording/safety";
import type { WordingContext, Words, WordsByKind } from "./wording/words";
import { workWords } from "./wording/work";

const table: WordsByKind = { ...gateWords, ...safetyWords, ...filmWords, ...workWords, ...hourWords, ...formWords };

export const wordsOf = (refusal: Refusal, c: WordingContext): Words =>
  (table[refusal.kind] as (refusal: Refusal, c: WordingContext) => Words)(refusal, c);
