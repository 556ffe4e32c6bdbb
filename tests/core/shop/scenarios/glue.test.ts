import { describe, expect, test } from "vitest";
import { jointAnswer, roundUpToMinute } from "~/core/cure/joint";
import type { MemoryFacts } from "~/core/shop/memory-facts";
import { everyTenMinutes, made, reading } from "../../cure/week";
import { aRoom, envelopeOf, id, refusalOf, rule, silas } from "../../support/shop";
import { at, demoFloor, loft, picture, sprayRoom, standing, steady } from "./demo-floor";

const [k204, rails] = [id(0x204), id(0x2041)];
/** 9 °C day and night: below the glue's chalk point. */
const coldBay = { ...aRoom({ id: id(0x2042), name: "Cold bay", uses: ["store", "bench"] }), usualCelsius: 9 };
/** The figures of a made-up bottle: an hour in clamps and a day to full strength at 70 °F, chalk below 10 °C. */
const g1 = made("glue", {
  mechanism: "glue",
  minimumCelsius: 10,
  referenceCelsius: 21,
  clampMin: 60,
  fullStrengthMin: 24 * 60,
  chalkCelsius: 10,
});

const floor = (): MemoryFacts => {
  const { piece, roomStay } = standing("K-204", k204);
  const cold = everyTenMinutes(coldBay, at("10-24 00:00 EDT"), at("10-30 00:00 EDT"), () => 9);
  return demoFloor(
    { piece: [piece], roomStay, room: [loft, sprayRoom, coldBay], product: [g1.product], sheet: [g1.sheet] },
    [...steady, ...cold],
  );
};
const glue = (roomId: string, when: string, more: Record<string, unknown> = {}) =>
  envelopeOf(
    "log-joint",
    {
      jointId: rails,
      pieceId: k204,
      name: "Seat rails, chair 1",
      sheetId: g1.sheet.id,
      roomId,
      squeeze: "clamped",
      stance: "asking",
      ...more,
    },
    silas,
    { at: at(when) },
  );

// scenario 17
describe("chairs to be glued on Monday evening in a bay at 9 °C, with glue that turns to chalk below 10 °C,", () => {
  test("are refused at 20:30, with the loft as the room that does", () => {
    expect(refusalOf(rule(floor(), glue(coldBay.id, "10-26 20:30 EDT")))).toMatchObject({
      kind: "glue-too-cold",
      roomId: coldBay.id,
      lowestCelsius: 9,
      chalkCelsius: 10,
      holdUntilAt: at("10-27 20:30 EDT"),
      roomIds: [loft.id],
    });
  });

  test("and glued in the loft at 20:45 leave their clamps at 22:03 and have full strength on Wednesday at 03:51", () => {
    const facts = floor();
    expect(rule(facts, glue(loft.id, "10-26 20:45 EDT")).verdict).toBe("accepted");
    const joint = facts.get("joint", rails);
    if (!joint) throw new Error("no joint");
    const { clampOff, fullStrength } = jointAnswer(picture(facts, k204), joint, at("10-26 20:46 EDT"));
    const shown = [clampOff.safeAt, fullStrength.safeAt].map((instant) => roundUpToMinute(instant ?? 0));
    expect(shown).toEqual([at("10-26 22:03 EDT"), at("10-28 03:51 EDT")]);
  });

  test("told as done in the cold are kept as told, marked, and somebody must look at that joint", () => {
    const facts = floor();
    expect(rule(facts, glue(coldBay.id, "10-26 20:30 EDT", { stance: "done" })).verdict).toBe("accepted");
    expect(facts.get("joint", rails)).toMatchObject({ roomId: coldBay.id, evidence: { state: "shut" } });
    expect(facts.where("passedOver", "pieceId", k204)).toMatchObject([{ by: silas }]);
    expect(facts.where("task", "pieceId", k204)).toMatchObject([{ sort: "inspect", jointId: rails, state: "open" }]);
  });
});

test("a bay that nobody has read since the morning is not warm enough for glue, nor cold: somebody must read it", () => {
  const facts = floor();
  const unread = { ...coldBay, id: id(0x2043), name: "Back room" };
  facts.put("room", unread);
  facts.put("reading", { ...reading(unread, at("10-26 08:00 EDT"), 20), id: id(0x2044) });
  expect(refusalOf(rule(facts, glue(unread.id, "10-26 20:30 EDT")))).toMatchObject({
    kind: "gate-needs-reading",
    roomId: unread.id,
    lastReadingAt: at("10-26 08:00 EDT"),
  });
});
