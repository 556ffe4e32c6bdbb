/** Out of which pot a coat came: a mix or cans, how old they were by then, and what that means for its film. */
import { type CanLife, canLife, shelfDays } from "../../coating/can-life";
import { type MixUse, mixUse } from "../../coating/pot-life";
import { dayMs, type InstantMs } from "../../units";
import type { Context } from "../define";
import type { Facts, Need } from "../facts";
import type { Refusal } from "../refusal";
import type { Can, Mix, Sheet } from "../tables";
import { cansOf } from "./mixes";

type PotBody = { mixId?: string; canIds?: string[]; startedAt: InstantMs; endedAt: InstantMs };

/** As far back as readings are asked for; a mix older than this counts in real minutes before. */
const readBackMs = 8 * dayMs;
const airFromAt = (mix: Mix, startedAt: InstantMs) => Math.max(mix.mixedAt, startedAt - readBackMs);

/** The readings of the room where the mix was made: there its pot life runs. */
export const potNeeds = (body: PotBody, facts: Facts): Need[] => {
  const mix = body.mixId === undefined ? undefined : facts.get("mix", body.mixId);
  return mix ? [{ readingsOf: mix.roomId, fromAt: airFromAt(mix, body.startedAt) }] : [];
};

export type Pot = {
  mix?: Mix;
  use?: MixUse;
  /** Cans of which it came without a mix. */
  straight: Can[];
  /** Cans past their life, of the mix or straight. */
  past: { can: Can; life: Extract<CanLife, { state: "past" }> }[];
  /** What the product keeps once it is open. */
  shelfOpenedDays?: number;
  /** The last stroke was laid after the pot life. */
  isOver: boolean;
  /** The first stroke was laid before the two parts had stood together for long enough. */
  isTooFresh: boolean;
};

/** What the coat came from, or which of it does not fit the product. */
export const potOf = (c: Context<PotBody>, sheet: Sheet): Pot | Refusal => {
  const { body, facts } = c;
  const mix = body.mixId === undefined ? undefined : facts.get("mix", body.mixId);
  const isOfProduct = mix && facts.get("sheet", mix.sheetId)?.productId === sheet.productId;
  const isMixedLater = mix && mix.mixedAt > body.startedAt;
  if (body.mixId !== undefined && (!isOfProduct || isMixedLater)) return { kind: "unknown-thing", field: "mixId" };
  const straight = mix ? [] : cansOf([...new Set(body.canIds)], sheet.productId, (id) => facts.get("can", id));
  if (!straight) return { kind: "unknown-thing", field: "canIds" };
  const cans = mix ? mix.canIds.flatMap((id) => facts.get("can", id) ?? []) : straight;
  const product = facts.get("product", sheet.productId);
  const days = product ? shelfDays(sheet, product.family) : sheet;
  const past = cans.flatMap((can) => {
    const life = canLife(can, days, c.shop.zone, body.startedAt);
    return life.state === "past" ? [{ can, life }] : [];
  });
  const use = mix && mixUse(mix, sheet, facts.air(mix.roomId, airFromAt(mix, body.startedAt)), body.startedAt);
  return {
    ...(mix && { mix, use }),
    straight,
    past,
    ...(days.shelfOpenedDays !== undefined && { shelfOpenedDays: days.shelfOpenedDays }),
    isOver: use?.usableUntilAt !== undefined && body.endedAt > use.usableUntilAt,
    isTooFresh: use !== undefined && body.startedAt < use.usableFromAt,
  };
};

/** Why nobody should lay it, for somebody who asks. */
export const potRefusal = (pot: Pot): Refusal | undefined => {
  const { mix, use } = pot;
  const dead = pot.past[0];
  if (dead) {
    const { can } = dead;
    return {
      kind: "can-past-life",
      canId: can.id,
      ...(can.openedOn !== undefined && { openedOn: can.openedOn }),
      ...(pot.shelfOpenedDays !== undefined && { shelfOpenedDays: pot.shelfOpenedDays }),
      isLabelled: can.isLabelled,
    };
  }
  if (!mix || !use || !(pot.isOver || pot.isTooFresh)) return undefined;
  return {
    kind: "pot-life-over",
    mixId: mix.id,
    mixedAt: mix.mixedAt,
    ...use,
    // waiting helps only a mix that still has to stand
    ...(!pot.isOver && { earliestAt: use.usableFromAt }),
  };
};
