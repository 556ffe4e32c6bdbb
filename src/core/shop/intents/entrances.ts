/**
 * The two ways in, judged before there is a member to ask: founding a shop, and joining one by invitation. They are no
 * ordinary intents; the ledger's edge calls them by kind.
 */
import * as z from "zod/mini";
import { isZone } from "../../calendar";
import { leadBanYearOf } from "../../safety/lead-limits";
import { text } from "../../text";
import { accepted, type Context, changed, made, type Ruling, refused } from "../define";
import { boardId, idOf, memberId, shopId } from "../entities/ids";
import { memberRow, type Role, shopRow } from "../entities/people";
import { boardRow } from "../entities/places";
import type { Need } from "../facts";
import type { RefusalOf } from "../refusal";
import type { Member, Row } from "../tables";

type EntranceContext<Body> = Pick<Context<Body>, "facts" | "body" | "when" | "newId">;

export type Entrance<Kind extends string = string, Body = unknown> = {
  kind: Kind;
  body: z.ZodMiniType<Body>;
  reads: (body: Body) => Need[];
  judge: (context: EntranceContext<Body>) => Ruling;
};

const defineEntrance = <const Kind extends string, Body>(entrance: Entrance<Kind, Body>) => entrance;

const arrival = {
  memberId,
  memberName: memberRow.shape.name,
  markLetter: memberRow.shape.markLetter,
  markOutline: memberRow.shape.markOutline,
};
type Arrival = { memberId: string; memberName: string; markLetter: string; markOutline: Member["markOutline"] };

const arrived = (c: EntranceContext<Arrival>, role: Role): Member => ({
  id: c.body.memberId,
  name: c.body.memberName,
  markLetter: c.body.markLetter,
  markOutline: c.body.markOutline,
  roleSpans: [{ role, fromAt: c.when.recordedAt }],
  skills: [],
  seesOffice: role === "partner",
});

export const foundShop = defineEntrance({
  kind: "found-shop",
  body: z.object({
    shopId,
    name: shopRow.shape.name,
    zone: text(60),
    country: shopRow.shape.country,
    currency: shopRow.shape.currency,
    weekStartsOn: z._default(shopRow.shape.weekStartsOn, 1),
    ...arrival,
    // the first piece needs somewhere to hang
    boardId,
    boardName: boardRow.shape.name,
  }),
  reads: (body) => [{ table: "shop", id: body.shopId }],
  judge: (c) => {
    const { shopId: id, name, zone, country, currency, weekStartsOn } = c.body;
    if (!isZone(zone)) return refused({ kind: "malformed", field: "zone", expected: "an IANA time zone" });
    const shop: Row<"shop"> = {
      id,
      name,
      zone,
      country,
      currency,
      weekStartsOn,
      leaseMin: 4320,
      leaseAskMin: 1440,
      helperTestOpens: false,
      partnersSeeHours: true,
      tabletRecheckMin: 60,
      leadBanYear: leadBanYearOf(country),
    };
    return accepted(
      {
        kind: "shop-founded",
        changes: [made("shop", shop), made("board", { id: c.body.boardId, name: c.body.boardName })],
      },
      { kind: "member-joined", memberId: c.body.memberId, changes: [made("member", arrived(c, "owner"))] },
    );
  },
});

export const joinShop = defineEntrance({
  kind: "join",
  body: z.object({
    invitationId: z.optional(idOf<"invitation">()),
    secretSha256: z.string().check(z.regex(/^[0-9a-f]{64}$/)),
    ...arrival,
  }),
  reads: (body) => [
    { table: "invitation", field: "secretSha256", value: body.secretSha256 },
    { table: "member", id: body.memberId },
  ],
  judge: (c) => {
    const invitation = c.facts
      .where("invitation", "secretSha256", c.body.secretSha256)
      .find((found) => c.body.invitationId === undefined || found.id === c.body.invitationId);
    const over = whyOver(invitation, c.when.recordedAt);
    if (over || !invitation) return refused({ kind: "invitation-over", reason: over ?? "unknown" });
    if (c.facts.get("member", c.body.memberId)) {
      return refused({ kind: "malformed", field: "memberId", expected: "an id that nobody here has" });
    }
    return accepted({
      kind: "member-joined",
      memberId: c.body.memberId,
      changes: [
        made("member", arrived(c, invitation.role)),
        changed("invitation", invitation.id, { usedBy: c.body.memberId }),
      ],
    });
  },
});

function whyOver(
  invitation: Row<"invitation"> | undefined,
  now: number,
): RefusalOf<"invitation-over">["reason"] | undefined {
  if (!invitation) return "unknown";
  if (invitation.usedBy !== undefined) return "used";
  if (invitation.withdrawnAt !== undefined) return "withdrawn";
  return invitation.expiresAt <= now ? "expired" : undefined;
}

const byKind = new Map([foundShop, joinShop].map((entrance) => [entrance.kind as string, entrance as Entrance]));

export const entranceKinds = [...byKind.keys()];

export const entranceOf = (kind: string): Entrance | undefined => byKind.get(kind);
