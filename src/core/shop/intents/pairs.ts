import * as z from "zod/mini";
import { gate } from "../../cure/gate";
import { accepted, alreadySo, changed, defineIntent, refused } from "../define";
import { pairId } from "../entities/ids";
import { spacers } from "../entities/pieces";
import type { Facts, Need } from "../facts";
import { refusalOfGate } from "../gate-ruling";
import { pictureOf } from "../picture";
import { floorHands } from "../roles";
import { passedOver } from "./passed-over";
import { gateNeeds } from "./piece-needs";

const pairNeeds = (body: { pairId: string }, facts: Facts): Need[] => {
  const pair = facts.get("pair", body.pairId);
  return [{ table: "pair", id: body.pairId }, ...(pair ? gateNeeds(pair.pieceId, facts, pair.changedAt) : [])];
};

/**
 * Drawers in, doors shut, leaves closed: faces that touch. The later of the two films decides. Reports may arrive in any
 * order; the pair is as the one that happened last says.
 */
export const pressTogether = defineIntent({
  kind: "press-together",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  body: z.object({ pairId, spacer: z._default(z.enum(spacers), "none"), stance: z.enum(["asking", "done"]) }),
  reads: pairNeeds,
  judge: (c) => {
    const pair = c.facts.get("pair", c.body.pairId);
    const picture = pair && pictureOf(c.facts, pair.pieceId);
    if (!pair || !picture) return refused({ kind: "unknown-thing", field: "pairId" });
    if (!pair.isApart && pair.spacer === c.body.spacer) return alreadySo();
    const at = c.when.happenedAt;
    const pressed = gate(
      {
        ...picture,
        pairs: picture.pairs.map((other) => (other.id === pair.id ? { ...pair, spacer: c.body.spacer } : other)),
      },
      { action: "press-together", pairId: pair.id },
      at,
    );
    if (pressed.state !== "open" && c.body.stance === "asking") return refused(refusalOfGate(pressed, picture));
    const isOvertaken = at < pair.changedAt;
    if (isOvertaken && pressed.state === "open") return alreadySo();
    const changes = isOvertaken
      ? []
      : [changed("pair", pair.id, { isApart: false, spacer: c.body.spacer, changedAt: at })];
    changes.push(
      ...passedOver(c, {
        pieceId: pair.pieceId,
        gate: pressed,
        at,
        look: "Pressed together early: look for prints before it goes on",
        surfaceIds: [pair.surfaceA, pair.surfaceB],
      }),
    );
    return accepted({ kind: "pair-pressed", pieceId: pair.pieceId, memberId: c.by.id, changes });
  },
});

export const setApart = defineIntent({
  kind: "set-apart",
  sort: "report",
  who: floorHands,
  carriesTime: true,
  body: z.object({ pairId }),
  reads: (body) => [{ table: "pair", id: body.pairId }],
  judge: (c) => {
    const pair = c.facts.get("pair", c.body.pairId);
    if (!pair) return refused({ kind: "unknown-thing", field: "pairId" });
    if (pair.isApart || c.when.happenedAt < pair.changedAt) return alreadySo();
    return accepted({
      kind: "pair-apart",
      pieceId: pair.pieceId,
      memberId: c.by.id,
      changes: [changed("pair", pair.id, { isApart: true, spacer: "none", changedAt: c.when.happenedAt })],
    });
  },
});
