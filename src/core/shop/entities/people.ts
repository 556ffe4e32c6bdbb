import * as z from "zod/mini";
import { text } from "../../text";
import { count, instant, quantity } from "../../units";
import { idOf, memberId, shopId } from "./ids";

export const roles = ["owner", "partner", "helper", "bookkeeper", "outlet"] as const;
export type Role = (typeof roles)[number];

export const skills = ["spray", "brush", "glue", "veneer", "strip", "drive", "lift"] as const;

/** Outlines of a member's mark: told apart by shape and letter, never by colour. */
export const markOutlines = ["disc", "block", "house", "hexagon", "arch", "cup"] as const;

export const shopRow = z.object({
  id: shopId,
  name: text(80),
  /** IANA time zone. */
  zone: text(60),
  /** ISO 3166 alpha-2. */
  country: z.string().check(z.regex(/^[A-Z]{2}$/)),
  /** ISO 4217. */
  currency: z.string().check(z.regex(/^[A-Z]{3}$/)),
  /** ISO 8601 weekday, 1 Monday to 7 Sunday. */
  weekStartsOn: count(1, 7),
  leaseMin: count(60, 43_200),
  leaseAskMin: count(0, 43_200),
  /** May a helper's passed test open a gate before a partner confirms it? */
  helperTestOpens: z.boolean(),
  partnersSeeHours: z.boolean(),
  tabletRecheckMin: count(1, 1440),
  /** Paint before this year may hold lead. */
  leadBanYear: count(1900, 2100),
  /** Do swabs on every layer lift the lead lock? Absent: no, a swab only screens. */
  swabSuffices: z.optional(z.boolean()),
  /** How far warmth may shorten the likely time, 1.0 to 2.0. Absent: 1.0. */
  likelyCap: z.optional(quantity("likelyCap")),
  /** What a joint under stress stays clamped at the least. Absent: the glue's own sheet rules. */
  stressedClampMin: z.optional(quantity("durationMin")),
  /** How long a fresh joint may be below its chalk temperature and still not be suspect. Absent: 30. */
  chalkGraceMin: z.optional(count(0, 1440)),
});

export const memberRow = z.object({
  id: memberId,
  name: text(60),
  markLetter: text(2),
  markOutline: z.enum(markOutlines),
  roleSpans: z.array(
    z.object({
      role: z.enum(roles),
      fromAt: instant,
      toAt: z.optional(instant),
      /** The ledger number of its end: a device that had seen it knew of it. */
      toSeq: z.optional(z.number()),
    }),
  ),
  skills: z.array(z.enum(skills)),
  seesOffice: z.boolean(),
});

export const invitationRow = z.object({
  id: idOf<"invitation">(),
  role: z.enum(roles),
  /** The name the owner expects, so that the list of open invitations says whose each is. */
  forName: text(60),
  secretSha256: z.string().check(z.regex(/^[0-9a-f]{64}$/)),
  expiresAt: instant,
  usedBy: z.optional(memberId),
  withdrawnAt: z.optional(instant),
});
