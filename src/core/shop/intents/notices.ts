import * as z from "zod/mini";
import { accepted, alreadySo, changed, defineIntent, refused } from "../define";
import { idOf } from "../entities/ids";
import { members } from "../roles";

export const seeNotice = defineIntent({
  kind: "see-notice",
  sort: "report",
  who: members,
  body: z.object({ noticeId: idOf<"notice">() }),
  reads: (body) => [{ table: "notice", id: body.noticeId }],
  judge: (c) => {
    const notice = c.facts.get("notice", c.body.noticeId);
    if (!notice || notice.memberId !== c.by.id) return refused({ kind: "unknown-thing", field: "noticeId" });
    if (notice.seenAt !== undefined) return alreadySo();
    return accepted({
      kind: "notice-seen",
      memberId: c.by.id,
      changes: [changed("notice", notice.id, { seenAt: c.when.recordedAt })],
    });
  },
});
