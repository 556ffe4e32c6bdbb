import type { Gate } from "../../cure/gate-answer";
import type { InstantMs } from "../../units";
import { type Context, made } from "../define";
import type { Change } from "../event";
import { evidenceOf } from "../gate-ruling";

/** What a rule makes by itself has these places among the ids that follow from its intent. */
const ordinal = { passedOver: 2, inspection: 4 } as const;

/** A task that a rule makes by itself: somebody must look. */
export const inspection = (
  c: Pick<Context<unknown>, "newId">,
  piece: string,
  title: string,
  surfaceIds: string[],
): Change =>
  made("task", {
    id: c.newId(ordinal.inspection),
    pieceId: piece,
    title,
    sort: "inspect",
    methods: [],
    surfaceIds,
    needsSkills: [],
    needsMembers: 1,
    after: [],
    state: "open",
  });

type Passed = { pieceId: string; gate: Gate; at: InstantMs; look: string; surfaceIds: string[] };

/** It was done although the gate was shut: recorded as it was, with the gate's answer, and somebody is asked to look. */
export function passedOver(c: Pick<Context<unknown>, "newId" | "intent" | "by">, passed: Passed): Change[] {
  const { pieceId, gate, at, look, surfaceIds } = passed;
  if (gate.state === "open") return [];
  return [
    made("passedOver", {
      id: c.newId(ordinal.passedOver),
      pieceId,
      intentId: c.intent.intentId,
      by: c.by.id,
      at,
      evidence: evidenceOf(gate),
    }),
    inspection(c, pieceId, look, surfaceIds),
  ];
}
