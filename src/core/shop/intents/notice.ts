import { type Context, made } from "../define";
import type { Change } from "../event";
import type { Notice } from "../tables";

/** A row that tells somebody of another's ruling. Ordinals of one intent's notices must differ. */
export const notice = (
  c: Pick<Context<unknown>, "newId" | "when" | "by">,
  ordinal: number,
  memberId: string,
  about: Notice["about"],
  more: Pick<Notice, "pieceId" | "taskId" | "detail">,
): Change =>
  made("notice", { id: c.newId(1000 + ordinal), memberId, about, at: c.when.recordedAt, byMemberId: c.by.id, ...more });
