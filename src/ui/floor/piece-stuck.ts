import { gate } from "~/core/cure/gate";
import type { Gate } from "~/core/cure/gate-answer";
import { jointAnswers } from "~/core/cure/joint";
import type { AskedGate } from "~/core/cure/next-gate";
import type { Picture } from "~/core/cure/picture";
import { leadState, methodLock } from "~/core/safety/lead";
import type { Task } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { celsius } from "~/ui/format";
import { familyWords, methodWords, testWords } from "~/ui/trade-words";

/** Why waiting will not mend it, and what a person does: words for the strip, and for its plate. */
export type StuckView = {
  about: "lead" | "test" | "flaw" | "joint" | "inspect" | "recoat" | "cold";
  text: string;
  action: string;
  verb: string;
};

type Asked = {
  picture: Picture;
  tasks: readonly Task[];
  next: AskedGate | undefined;
  recoats: readonly AskedGate[];
  at: InstantMs;
};

const isBeforeFinish = ({ stage }: Picture["piece"]) =>
  stage === "acquisition" || stage === "repair" || stage === "prep";

/** Old paint that may hold lead, where it is in the way of the work at hand. */
function leadStuck({ picture, tasks, at }: Asked): StuckView | undefined {
  const { piece, tests, shop } = picture;
  const state = leadState(piece, tests, shop.leadBanYear, at);
  const locked = tasks.flatMap((task) =>
    task.methods.filter((method) => methodLock(state, method, shop.swabSuffices) === "locked"),
  )[0];
  const action = `No ${methodWords[locked ?? "dry-sand"]}`;
  if (state === "positive" && (isBeforeFinish(piece) || locked)) {
    const found = tests.findLast((test) => test.subject.of === "paint-layer" && test.result === "fail");
    const layer = found?.subject.of === "paint-layer" ? found.subject.layer : "old paint";
    return { about: "lead", text: `Lead in ${layer}`, action, verb: "Decide" };
  }
  if (state !== "unknown") return undefined;
  if (locked || (piece.isPainted === "yes" && isBeforeFinish(piece)))
    return { about: "lead", text: "Old paint, not tested for lead", action, verb: "Test it" };
  return undefined;
}

const need = <Kind extends Gate["needs"][number]["kind"]>(found: Gate, kind: Kind) =>
  found.needs.find((other): other is Extract<Gate["needs"][number], { kind: Kind }> => other.kind === kind);

function testStuck({ picture, at }: Asked): StuckView | undefined {
  const shut = [
    gate(picture, { action: "move", carried: "hands" }, at),
    gate(picture, { action: "press-together" }, at),
  ];
  const no = shut.map((found) => need(found, "test-says-no")).find((found) => found !== undefined);
  const test = no && picture.tests.find(({ id }) => id === no.testId);
  if (!test) return undefined;
  const by = picture.members.find(({ id }) => id === test.by)?.name;
  return {
    about: "test",
    text: `${by ? `${by}: ` : ""}${testWords[test.kind]} failed`,
    action: "Test again",
    verb: "By hand",
  };
}

/** A joint that the cold may have spoilt, or that came apart. */
function jointStuck({ picture, at }: Asked): StuckView | undefined {
  const joint = jointAnswers(picture, at).find(({ isSuspect, isFailed }) => isSuspect || isFailed);
  if (!joint) return undefined;
  const { name } = joint.joint;
  return joint.isFailed
    ? { about: "joint", text: `Failed joint: ${name}`, action: "A joint failed", verb: "Glue again" }
    : { about: "joint", text: `Cold glue: ${name}`, action: "Cold glue line", verb: "Inspect" };
}

function recoatStuck({ recoats }: Asked): StuckView | undefined {
  for (const { gate: found } of recoats) {
    const rule = need(found, "not-over-that");
    if (!rule || found.safeAt !== undefined) continue;
    return {
      about: "recoat",
      text: `${familyWords[rule.overFamily]} does not go over ${familyWords[rule.underFamily]}`,
      action: "No recoat",
      verb: rule.barrierFamily ? "Barrier" : "Decide",
    };
  }
  return undefined;
}

function coldStuck({ picture, next }: Asked): StuckView | undefined {
  const cold = next && need(next.gate, "below-minimum");
  if (!cold) return undefined;
  const room = picture.roomById.get(cold.roomId)?.name ?? "room";
  return {
    about: "cold",
    text: `Stands still under ${celsius(cold.minimumCelsius)}`,
    action: `${room}: too cold`,
    verb: "Carry it",
  };
}

/** The first thing that holds a piece and that no clock cures. */
export function pieceStuck(asked: Asked): StuckView | undefined {
  const flawed = asked.picture.coats.find((coat) => coat.state === "flawed");
  const inspect = asked.tasks.find((task) => task.sort === "inspect");
  return (
    leadStuck(asked) ??
    testStuck(asked) ??
    (flawed && {
      about: "flaw" as const,
      text: `Flaw: ${flawed.flaw?.cause.replaceAll("-", " ") ?? "in the film"}`,
      action: "A flaw is open",
      verb: "Mend it",
    }) ??
    jointStuck(asked) ??
    (inspect && { about: "inspect" as const, text: inspect.title, action: "Look first", verb: "Inspect" }) ??
    recoatStuck(asked) ??
    coldStuck(asked)
  );
}
