import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { Crowd } from "../../server/crowd";
import { Knocks, networkOf } from "../../server/knocks";
import { certifiedAddresses, Origins } from "../../server/origins";
import { readSettings } from "../../server/settings";

const admits = (origins: Origins, origin?: string) =>
  origins.admits({ headers: origin === undefined ? {} : { origin } });

describe("pages that may act here", () => {
  const origins = new Origins({ addresses: ["http://localhost:3000", "https://bench.local"] });

  test.each<[string, string | undefined, boolean]>([
    ["the shop's own", "http://localhost:3000", true],
    ["the same over https, with the port that goes without saying", "https://bench.local:443", true],
    ["those of another port of the same machine", "http://localhost:3001", false],
    ["those over plain http where the site is encrypted", "http://bench.local", false],
    ["those of a name that begins alike", "https://bench.local.elsewhere.example", false],
    ["those of a name that ends alike", "https://notbench.local", false],
    ["those with the shop's name as a user", "https://bench.local@elsewhere.example", false],
    ["those that are nobody's", "null", false],
    ["those of something that is no address", "bench.local", false],
    ["a program that says nothing", undefined, false],
  ])("%s (%s): %s", (_, origin, may) => {
    expect(admits(origins, origin)).toBe(may);
  });

  test("a program that says nothing is let in by a test's flag, another site's page is not", () => {
    const open = new Origins({ addresses: [], mayBeAbsent: true });
    expect([admits(open), admits(open, "http://elsewhere.example")]).toEqual([true, false]);
  });

  test("each site that is turned away is told of once, and not more than twenty", () => {
    const told: string[] = [];
    const watched = new Origins({ addresses: [], turnedAway: (origin) => told.push(origin) });
    for (let round = 0; round < 3; round += 1) {
      for (let index = 0; index < 50; index += 1) admits(watched, `https://site${index}.example`);
    }
    expect(told).toEqual(Array.from({ length: 20 }, (_, index) => `https://site${index}.example`));
  });

  test("a certificate's own names are the site's; a whole domain names no host", () => {
    const subjectAltName =
      "DNS:bench.local, DNS:*.example.com, IP Address:192.168.1.7, IP Address:FE80:0:0:0:0:0:0:1, email:a@b";
    const found = certifiedAddresses({ subjectAltName }, 3000);
    expect(found).toEqual([
      "https://bench.local:3000",
      "https://192.168.1.7:3000",
      "https://[FE80:0:0:0:0:0:0:1]:3000",
    ]);
    expect(admits(new Origins({ addresses: found }), "https://[fe80::1]:3000")).toBe(true);
    expect(certifiedAddresses({ subjectAltName: undefined }, 3000)).toEqual([]);
  });

  test("the settings add to where the server says it is found, and what is no address is refused at the start", () => {
    const needed = {
      NEXTAUTH_URL: "http://localhost:3000",
      NEXTAUTH_SECRET: "sixteen letters!",
      NODE_ENV: "production" as const,
    };
    const more = {
      TACKFREE_ADDRESSES: "http://localhost:3000,http://127.0.0.1:3000",
      ALLOWED_ORIGINS: " https://shop.example , ",
    };
    expect(readSettings({ ...needed, ...more }).siteAddresses).toEqual([
      "http://localhost:3000",
      "http://localhost:3000",
      "http://127.0.0.1:3000",
      "https://shop.example",
    ]);
    expect(() => readSettings({ ...needed, ALLOWED_ORIGINS: "shop.example" })).toThrow("ALLOWED_ORIGINS");
    expect(readSettings(needed).mayLackOrigin).toBe(false);
  });

  test("the secret of before is one of the two, and is no short one", () => {
    const needed = {
      NEXTAUTH_URL: "http://localhost:3000",
      NEXTAUTH_SECRET: "sixteen letters!",
      NODE_ENV: "production" as const,
    };
    const previous = "sixteen others, before";
    expect(readSettings({ ...needed, NEXTAUTH_SECRET_PREVIOUS: previous }).sessionSecrets).toEqual([
      "sixteen letters!",
      previous,
    ]);
    expect(readSettings({ ...needed, NEXTAUTH_SECRET_PREVIOUS: "" }).sessionSecrets).toEqual(["sixteen letters!"]);
    expect(() => readSettings({ ...needed, NEXTAUTH_SECRET_PREVIOUS: "short" })).toThrow("PREVIOUS");
  });
});

describe("knocking", () => {
  test("over and over from one network is put off; others are answered, and later so is that one", () => {
    const knocks = new Knocks({ perSecond: 2, burst: 3 });
    const four = [1, 2, 3, 4].map(() => knocks.take("192.0.2.1", 1000));
    expect(four).toEqual([true, true, true, false]);
    expect(knocks.take("192.0.2.2", 1000)).toBe(true);
    expect(knocks.take("192.0.2.1", 1500)).toBe(true);
  });

  test("from ten thousand networks and one is remembered of ten thousand, and the busy one is not forgotten", () => {
    const knocks = new Knocks({ perSecond: 0.001, burst: 1 });
    expect(knocks.take("192.0.2.1", 0)).toBe(true);
    for (let index = 0; index < 12_000; index += 1) {
      knocks.take(`10.${index >> 16}.${(index >> 8) & 255}.${index & 255}`, 0);
      if (index % 1000 === 0) knocks.take("192.0.2.1", 0);
    }
    expect(knocks.size).toBe(10_000);
    expect(knocks.take("192.0.2.1", 0)).toBe(false);
  });

  // Source of the forms: RFC 5952 (text of IPv6), RFC 4291 2.5.5.2 (IPv4 inside of IPv6), RFC 4007 11 (zones)
  test.each([
    ["192.0.2.7", "192.0.2.7"],
    ["::ffff:192.0.2.7", "192.0.2.7"],
    ["2001:db8:1:2:3:4:5:6", "2001:db8:1:2"],
    ["2001:db8:1:2::9", "2001:db8:1:2"],
    ["2001:db8::1", "2001:db8:0:0"],
    ["2001:DB8:0001:0002::", "2001:db8:1:2"],
    ["fe80::1%eth0", "fe80:0:0:0"],
    ["::1", "0:0:0:0"],
    ["", ""],
  ])("%s is of the network %s", (address, network) => {
    expect(networkOf(address)).toBe(network);
  });
});

describe("the open sockets", () => {
  const most = { session: 2, member: 3, shop: 5, address: 6 };
  const visitor = fc.record({
    sessionId: fc.constantFrom("s1", "s2", "s3", "s4"),
    memberId: fc.constantFrom("m1", "m2", undefined),
    shopId: fc.constantFrom("mill", "creamery"),
    address: fc.constantFrom("192.0.2.1", "::ffff:192.0.2.1", "2001:db8::1", "2001:db8::2", undefined),
  });

  test("of a session, a member, a shop or an address are never more than there may be, and places come free again", () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ visitor, leaves: fc.boolean(), which: fc.nat() }), { maxLength: 80 }),
        (steps) => {
          const crowd = new Crowd(most);
          const inside: { visitor: (typeof steps)[number]["visitor"]; leave: () => void }[] = [];
          const countOf = (isSo: (one: (typeof steps)[number]["visitor"]) => boolean) =>
            inside.filter((one) => isSo(one.visitor)).length;
          for (const step of steps) {
            if (step.leaves && inside.length > 0) {
              const [gone] = inside.splice(step.which % inside.length, 1);
              gone?.leave();
              gone?.leave(); // twice is once
              continue;
            }
            const { sessionId, memberId, shopId, address } = step.visitor;
            const isFull =
              countOf((one) => one.sessionId === sessionId) >= most.session ||
              (memberId !== undefined && countOf((one) => one.memberId === memberId) >= most.member) ||
              countOf((one) => one.shopId === shopId) >= most.shop ||
              (address !== undefined &&
                countOf((one) => one.address !== undefined && networkOf(one.address) === networkOf(address)) >=
                  most.address);
            const leave = crowd.enter(step.visitor);
            expect(leave === undefined).toBe(isFull);
            if (leave) inside.push({ visitor: step.visitor, leave });
          }
          for (const { leave } of inside) leave();
          expect(crowd.size).toBe(0);
        },
      ),
    );
  });
});
