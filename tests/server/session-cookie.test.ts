import { encode } from "next-auth/jwt";
import { beforeAll, describe, expect, test, vi } from "vitest";
import { authOptions } from "~/api/auth";
import { sessionIdReader } from "../../server/session-cookie";

const secret = "the secret of this season";
const before = "the secret of last season";
const plain = "next-auth.session-token";
const secure = `__Secure-${plain}`;
const sid = "0190b5a0-0000-7000-8000-000000000001";

let token: string;
let [first, second] = ["", ""];
beforeAll(async () => {
  token = await encode({ token: { sid }, secret });
  const half = Math.floor(token.length / 2);
  [first, second] = [token.slice(0, half), token.slice(half)];
});

const read = (cookie: string | undefined, { url = "http://localhost:3000", secrets = [secret] } = {}) =>
  sessionIdReader({ secrets, url })({ headers: { cookie } });
const https = { url: "https://bench.local:3000" };

describe("a session is found", () => {
  test.each<[string, () => string, { url?: string }]>([
    ["under the plain name over http", () => `${plain}=${token}`, {}],
    ["under the guarded name over https", () => `${secure}=${token}`, https],
    ["in two pieces", () => `${plain}.0=${first}; ${plain}.1=${second}`, {}],
    ["in two pieces the other way round", () => `${plain}.1=${second}; ${plain}.0=${first}`, {}],
    ["in two pieces over https", () => `${secure}.1=${second}; ${secure}.0=${first}`, https],
    [
      "among eleven other cookies",
      () => [...Array.from({ length: 11 }, (_, index) => `other${index}=${index}`), `${plain}=${token}`].join("; "),
      {},
    ],
    ["where the name comes twice, one of them stale", () => `${plain}=stale; ${plain}=${token}`, {}],
    ["where the name comes twice, the stale one last", () => `${plain}=${token}; ${plain}=stale`, {}],
    ["beside an empty one of the same name", () => `${plain}=; ${plain}=${token}`, {}],
    ["whole beside old pieces", () => `${plain}.0=old; ${plain}=${token}; ${plain}.1=er`, {}],
    ["beside a cookie whose name only begins alike", () => `${plain}-of-another=x; ${plain}=${token}`, {}],
    ["without spaces between the cookies", () => `a=1;${plain}=${token};b=2`, {}],
  ])("%s", async (_, cookie, settings) => {
    expect(await read(cookie(), settings)).toBe(sid);
  });
});

describe("a stranger is who comes with", () => {
  test.each<[string, () => string | undefined, { url?: string }]>([
    ["no cookie header", () => undefined, {}],
    ["an empty header", () => "", {}],
    ["an empty session", () => `${plain}=`, {}],
    ["words without an equals sign", () => `${plain}; ${plain}`, {}],
    ["half of the pieces", () => `${plain}.0=${first}`, {}],
    ["pieces with a strange number", () => `${plain}.0x=${first}; ${plain}.-1=${second}; ${plain}.99=${second}`, {}],
    // over plain http anybody on the way may set a cookie of the plain name
    ["the plain name over https", () => `${plain}=${token}`, https],
    ["the guarded name over http", () => `${secure}=${token}`, {}],
    ["the token under another letter case", () => `Next-Auth.Session-Token=${token}`, {}],
  ])("%s", async (_, cookie, settings) => {
    expect(await read(cookie(), settings)).toBeUndefined();
  });

  test("a token that holds no session, or one that is over, or one whose end was changed", async () => {
    const of = async (held: Record<string, unknown>, maxAge = 60) => encode({ token: held, secret, maxAge });
    const [nobody, old, good] = [await of({}), await of({ sid }, -60), await of({ sid })];
    const changed = `${good.slice(0, -3)}${good.endsWith("AAA") ? "BBB" : "AAA"}`;
    for (const found of [nobody, old, changed]) expect(await read(`${plain}=${found}`)).toBeUndefined();
    expect(await read(`${plain}=${good}`)).toBe(sid);
  });

  test("a thousand tokens of one name: only the first few are looked at", async () => {
    const many = Array.from({ length: 1000 }, () => `${plain}=stale`).join("; ");
    expect(await read(`${many}; ${plain}=${token}`)).toBeUndefined();
  });
});

describe("when the secret is replaced", () => {
  const secrets = [secret, before];

  test("who signed in under the one before stays signed in, and so does everybody else", async () => {
    const older = await encode({ token: { sid }, secret: before });
    expect(await read(`${plain}=${older}`, { secrets })).toBe(sid);
    expect(await read(`${plain}=${token}`, { secrets })).toBe(sid);
  });

  test("whoever signed in under one that no longer counts is a stranger", async () => {
    const oldest = await encode({ token: { sid }, secret: "the secret of two seasons ago" });
    expect(await read(`${plain}=${oldest}`, { secrets })).toBeUndefined();
    const older = await encode({ token: { sid }, secret: before });
    expect(await read(`${plain}=${older}`)).toBeUndefined();
  });

  test("the sign-in's own pages open both, and seal with the new one", async () => {
    vi.stubEnv("NEXTAUTH_SECRET", secret);
    vi.stubEnv("NEXTAUTH_SECRET_PREVIOUS", before);
    const options = authOptions();
    vi.unstubAllEnvs();
    const older = await encode({ token: { sid }, secret: before });
    const opened = await options.jwt?.decode?.({ token: older, secret });
    expect(opened?.sid).toBe(sid);
    expect(options.secret).toBe(secret);
  });
});
