import { beforeEach, describe, expect, test } from "vitest";
import type { Intent } from "~/core/shop/intent";
import { dayMs, hourMs } from "~/core/units";
import { NotSignedIn, type SendAnswer } from "~/device/delivery";
import { type LastAnswer, LastDelivery, type PassLink } from "~/device/last-delivery";
import { passOf } from "~/device/pass-database";
import { sha256Of } from "~/device/secret";
import { envelopeOf, hanna, id, monday8, shopId } from "../core/support/shop";
import { emptyPhone } from "./support/browser";

const owner = { shopId, memberId: hanna, deviceId: id(0xde) };
const hours = envelopeOf("add-entry", {}, hanna, { at: monday8 });
const claim = envelopeOf("claim-task", {}, hanna, { at: monday8 });

/** A shop's server that knows a pass by its hash, and ends a membership when a test says so. */
class TestShop implements PassLink {
  endedAt: number | undefined;
  isOver = false;
  isAway = false;
  knownSha256: string | undefined;
  readonly taken: Intent[] = [];

  send = async (intents: Intent[]): Promise<SendAnswer> => {
    if (this.isAway) throw new Error("no signal");
    if (this.endedAt !== undefined) throw new NotSignedIn();
    return this.rule(intents);
  };
  enrol = async (secretSha256: string): Promise<void> => {
    if (this.isAway) throw new Error("no signal");
    if (this.endedAt !== undefined) throw new NotSignedIn();
    this.knownSha256 = secretSha256;
  };
  sendLast = async (secret: string, intents: Intent[]): Promise<LastAnswer> => {
    const isKnown = (await sha256Of(secret)) === this.knownSha256;
    if (this.endedAt === undefined || !isKnown) throw new NotSignedIn();
    const { endedAt, isOver } = this;
    return { ...this.rule(isOver ? [] : intents), isOver, endedAt, untilAt: endedAt + 14 * dayMs };
  };

  private rule(intents: Intent[]): SendAnswer {
    this.taken.push(...intents);
    const rulings = intents.map(({ intentId, kind }) =>
      kind === "add-entry"
        ? { intentId, verdict: "accepted" as const }
        : {
            intentId,
            verdict: "refused" as const,
            refusal: { kind: "no-longer-a-member" as const, endedAt: this.endedAt ?? 0 },
          },
    );
    return { rulings };
  }
}

let shop: TestShop;
beforeEach(() => {
  emptyPhone();
  shop = new TestShop();
});
const phone = (hasPass = true) => new LastDelivery(owner, shop, hasPass);

describe("a phone whose member's place has ended while it was apart", () => {
  test("delivers what waits with the pass that it made known before, and keeps what was taken", async () => {
    await phone().enrol();
    shop.endedAt = monday8 + hourMs;
    const later = phone(); // the page was loaded again
    const answer = await later.send([hours, claim], []);
    expect(answer.rulings.map(({ verdict }) => verdict)).toEqual(["accepted", "refused"]);
    expect(later.ended).toEqual({
      endedAt: monday8 + hourMs,
      untilAt: monday8 + hourMs + 14 * dayMs,
      isOver: false,
      delivered: [{ intentId: hours.intentId, kind: "add-entry", madeAt: monday8 }],
    });
    expect((await passOf(owner))?.ended).toEqual(later.ended);
  });

  test("tells of each thing once, however often it was sent", async () => {
    await phone().enrol();
    shop.endedAt = monday8;
    const later = phone();
    await later.send([hours], []);
    await later.send([hours], []);
    expect(later.ended?.delivered).toHaveLength(1);
  });

  test("asks about the end without anything to send, and says what was delivered before", async () => {
    await phone().enrol();
    shop.endedAt = monday8;
    await phone().send([hours], []);
    expect((await phone().look())?.delivered).toHaveLength(1);
    expect(shop.taken).toEqual([hours]);
  });

  test("keeps what it has when its days are over, and stops knocking until somebody signs in", async () => {
    await phone().enrol();
    Object.assign(shop, { endedAt: monday8, isOver: true });
    const later = phone();
    await expect(later.send([hours], [])).rejects.toThrow(NotSignedIn);
    expect(later.ended).toMatchObject({ isOver: true, delivered: [] });
    expect(shop.taken).toEqual([]);
  });
});

describe("a phone", () => {
  test("that is signed in sends as its member, without the pass", async () => {
    const here = phone();
    await here.enrol();
    await here.send([hours], []);
    expect(here.ended).toBeUndefined();
  });

  test("that is signed out of a membership that lasts waits for the sign-in", async () => {
    const here = phone();
    await here.enrol();
    shop.send = async () => {
      throw new NotSignedIn();
    };
    await expect(here.send([hours], [])).rejects.toThrow(NotSignedIn);
    expect(await here.look()).toBeUndefined();
  });

  test("that never made a pass known has none to deliver with", async () => {
    shop.endedAt = monday8;
    await expect(phone().send([hours], [])).rejects.toThrow(NotSignedIn);
  });

  test("without signal is not signed out: the failure is the line's", async () => {
    await phone().enrol();
    shop.isAway = true;
    await expect(phone().send([hours], [])).rejects.toThrow("no signal");
    await expect(phone().enrol()).rejects.toThrow("no signal");
  });

  test("makes one pass, whichever of its pages asks first, and gives the server its hash alone", async () => {
    const told: string[] = [];
    shop.enrol = async (secretSha256) => void told.push(secretSha256);
    await Promise.all([phone().enrol(), phone().enrol(), phone().enrol()]);
    const secret = (await passOf(owner))?.secret as string;
    expect(told).toEqual(Array.from({ length: 3 }, () => told[0]));
    expect(told[0]).toBe(await sha256Of(secret));
  });

  test("that the shop shares, or that keeps nothing, makes none", async () => {
    await phone(false).enrol();
    expect(shop.knownSha256).toBeUndefined();
    expect(await passOf(owner)).toBeUndefined();
  });

  test("that two members use has a pass for each", async () => {
    await phone().enrol();
    const first = shop.knownSha256;
    await new LastDelivery({ ...owner, memberId: id(0x99) }, shop, true).enrol();
    expect(shop.knownSha256).not.toBe(first);
    expect(await passOf(owner)).toBeDefined();
  });
});
