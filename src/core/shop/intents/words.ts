import * as z from "zod/mini";
import { wordHindrance } from "../../cure/word-hindrance";
import { text } from "../../text";
import { hourMs, instant } from "../../units";
import { accepted, alreadySo, type Context, changed, defineIntent, made, refused } from "../define";
import { idOf, pairId, pieceId, surfaceId } from "../entities/ids";
import { wraps } from "../entities/pieces";
import { gateActions } from "../entities/tests";
import { pictureOf } from "../picture";
import type { Refusal } from "../refusal";
import { partners } from "../roles";
import { gateNeeds } from "./piece-needs";

const wordId = idOf<"word">();

/** A word ends by itself after this long at most. */
export const longestWordMs = 72 * hourMs;
/** Short enough for a thumb, long enough to be a reason. */
const leastWhy = 10;

const body = z.object({
  wordId,
  pieceId,
  action: z.enum(gateActions),
  subjectId: z.optional(z.union([surfaceId, pairId])),
  untilAt: instant,
  why: text(300).check(z.minLength(leastWhy)),
  /** The wrap that one has in mind: none that seals the film is a matter of anybody's word. */
  wrap: z.optional(z.enum(wraps)),
});
type Body = z.infer<typeof body>;

/** Somebody with the power to say so opens a gate for a while, on their own name. It never beats a failed test. */
export const overrideGate = defineIntent({
  kind: "override-gate",
  sort: "word",
  who: partners,
  body,
  reads: (asked, facts, intent) => gateNeeds(asked.pieceId, facts, intent.deviceAt),
  judge: (c) => {
    const picture = pictureOf(c.facts, c.body.pieceId);
    if (!picture) return refused({ kind: "unknown-thing", field: "pieceId" });
    const { wordId: id, wrap, ...word } = c.body;
    const { madeAt } = c.when;
    if (picture.piece.archivedAt !== undefined && madeAt >= picture.piece.archivedAt) {
      const { number, archivedAt } = picture.piece;
      return refused({ kind: "after-it-left", thing: number, happenedAt: madeAt, leftAt: archivedAt });
    }
    const subjects: readonly { id: string }[] = [...picture.surfaces, ...picture.pairs];
    if (word.subjectId !== undefined && !subjects.some((subject) => subject.id === word.subjectId))
      return refused({ kind: "unknown-thing", field: "subjectId" });
    const tooLong = untilRefusal(c);
    if (tooLong) return refused(tooLong);
    if (picture.words.some((given) => given.id === id)) return alreadySo();
    const asked = { action: word.action, ...(word.subjectId && { subjectId: word.subjectId }), ...(wrap && { wrap }) };
    const found = wordHindrance(picture, asked, madeAt);
    if (found.kind === "open") return alreadySo();
    if (found.kind === "no-word")
      return refused({
        kind: "no-word-opens",
        action: word.action,
        cause: found.cause,
        subjectIds: [picture.piece.id],
      });
    return accepted({
      kind: "gate-overridden",
      pieceId: picture.piece.id,
      memberId: c.by.id,
      changes: [made("word", { id, ...word, by: c.by.id, at: madeAt })],
    });
  },
});

const untilRefusal = (c: Context<Body>): Refusal | undefined => {
  const { untilAt } = c.body;
  const { madeAt } = c.when;
  const hours = Math.round((untilAt - madeAt) / hourMs);
  return untilAt > madeAt && untilAt <= madeAt + longestWordMs
    ? undefined
    : { kind: "out-of-bounds", field: "how long the word holds", found: hours, min: 1, max: 72, unit: "h" };
};

/** Whoever may give a word may end one, their own or another's. */
export const withdrawWord = defineIntent({
  kind: "withdraw-word",
  sort: "word",
  who: partners,
  body: z.object({ wordId }),
  reads: (asked) => [{ table: "word", id: asked.wordId }],
  judge: (c) => {
    const word = c.facts.get("word", c.body.wordId);
    if (!word) return refused({ kind: "unknown-thing", field: "wordId" });
    if (word.withdrawnAt !== undefined || word.untilAt <= c.when.madeAt) return alreadySo();
    return accepted({
      kind: "word-withdrawn",
      pieceId: word.pieceId,
      memberId: c.by.id,
      changes: [changed("word", word.id, { withdrawnAt: Math.max(c.when.madeAt, word.at) })],
    });
  },
});
