/** What a hand test changes besides being written down: a can's or a joint's verdict, a product's factor, a gate. */
import { facePart } from "../../cure/face";
import type { FacePart } from "../../cure/gate-answer";
import { jointVerdict } from "../../cure/joint";
import { lessonOf } from "../../cure/lesson";
import { testedMilestone } from "../../cure/observation";
import type { Picture } from "../../cure/picture";
import { woodPart } from "../../cure/washed-wood";
import { type Context, changed } from "../define";
import type { Change, ShopEvent } from "../event";
import type { Facts } from "../facts";
import type { HandTest, Product } from "../tables";

/** Of more tests than this the earliest are forgotten: the shop, its rooms and its cans are others by then. */
const rememberedTests = 200;

/** What the test teaches of its product, if it is a test of film whose air was known. */
export function taught(c: Pick<Context<unknown>, "facts">, picture: Picture, test: HandTest): Change[] {
  const { result } = test;
  const lesson = lessonOf(picture, test);
  const product = lesson && c.facts.get("product", lesson.productId);
  if (!product || (result !== "pass" && result !== "fail")) return [];
  const seen = { testId: test.id, at: test.at, result, ratio: Math.round(lesson.ratio * 10_000) / 10_000 };
  return [
    changed("product", product.id, { observations: [...(product.observations ?? []), seen].slice(-rememberedTests) }),
  ];
}

/** A pull or a drop decides about its joint or its can. A joint that failed stays failed: glued again, it is another. */
export function decided(c: Pick<Context<unknown>, "facts">, test: HandTest): Change[] {
  const { subject, result, at, id: testId } = test;
  if (result !== "pass" && result !== "fail") return [];
  if (subject.of === "can") {
    const can = c.facts.get("can", subject.canId);
    return !can || (can.dropTest && can.dropTest.at > at)
      ? []
      : [changed("can", can.id, { dropTest: { testId, at, result } })];
  }
  const joint = subject.of === "joint" ? c.facts.get("joint", subject.jointId) : undefined;
  const verdict = joint && jointVerdict(joint, test);
  return verdict ? [changed("joint", joint.id, { verdict })] : [];
}

/** What a test that is taken back has taught or decided goes with it. */
export function untaught(facts: Facts, test: HandTest): Change[] {
  const isOfTest = ({ testId }: { testId: string }) => testId === test.id;
  const taughtProducts = facts
    .all("product")
    .filter((product) => product.observations?.some(isOfTest))
    .map((product: Product) =>
      changed("product", product.id, { observations: product.observations?.filter((seen) => !isOfTest(seen)) }),
    );
  const { subject } = test;
  const can = subject.of === "can" ? facts.get("can", subject.canId) : undefined;
  const joint = subject.of === "joint" ? facts.get("joint", subject.jointId) : undefined;
  return [
    ...taughtProducts,
    ...(can?.dropTest && isOfTest(can.dropTest) ? [changed("can", can.id, { dropTest: null })] : []),
    ...(joint?.verdict && isOfTest(joint.verdict) ? [changed("joint", joint.id, { verdict: null })] : []),
  ];
}

/** The films, or the bare wood, of which a test speaks, as they are held with these tests. */
const partsTested = (picture: Picture, test: HandTest): FacePart[] => {
  const { subject, at } = test;
  if (subject.of === "washed") return [woodPart(picture, subject.surfaceId, at)].filter((part) => part !== undefined);
  const milestone = testedMilestone(test.kind);
  if (!milestone) return [];
  const demand = { milestone };
  if (subject.of === "surface") return [facePart(picture, { surfaceId: subject.surfaceId, demand }, at, false)];
  const pair = subject.of === "pair" && picture.pairs.find(({ id }) => id === subject.pairId);
  if (!pair) return [];
  return [pair.surfaceA, pair.surfaceB].map((surfaceId) =>
    facePart(picture, { surfaceId, demand, pairId: pair.id }, at, false),
  );
};

const isOpen = (parts: readonly FacePart[]) => parts.every(({ state }) => state === "open");

/** Whether the test opened or shut what the clock had answered otherwise: that is said in the ledger by its own name. */
export function gateTurned(c: Pick<Context<unknown>, "by">, picture: Picture, test: HandTest): ShopEvent[] {
  const before = partsTested(picture, test);
  const after = partsTested({ ...picture, tests: [...picture.tests, test] }, test);
  if (after.length === 0) return [];
  const turned = { pieceId: test.pieceId, memberId: c.by.id, changes: [] };
  if (!isOpen(before) && isOpen(after)) return [{ kind: "gate-opened-by-test", ...turned }];
  const saysNo = after.some(({ needs }) =>
    needs.some((need) => need.kind === "test-says-no" && need.testId === test.id),
  );
  const saysWet = isOpen(before) && !isOpen(after);
  return saysNo || saysWet ? [{ kind: "gate-shut-by-test", ...turned }] : [];
}
