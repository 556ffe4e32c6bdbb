import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import http from "node:http";
import type { AddressInfo } from "node:net";
import os from "node:os";
import path from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, test } from "vitest";
import { referenceOf } from "~/api/error-reference";
import { dispatcher, listening, webServer } from "../../server/http";
import { readSettings } from "../../server/settings";
import { trustPages } from "../../server/trust-page";
import { Turns } from "../../server/turns";
import { Promised } from "./support/promised";

let folder: string;
let authorityFile: string;
beforeAll(() => {
  folder = mkdtempSync(path.join(os.tmpdir(), "tackfree-trust-"));
  authorityFile = path.join(folder, "authority.crt");
  writeFileSync(authorityFile, "-----BEGIN CERTIFICATE-----\nwalnut\n-----END CERTIFICATE-----\n");
});
afterAll(() => rmSync(folder, { recursive: true }));

const open: ReturnType<typeof webServer>[] = [];
afterEach(() => {
  for (const server of open.splice(0)) {
    server.closeAllConnections();
    server.close();
  }
});

async function served(listener: http.RequestListener): Promise<number> {
  const server = webServer(listener);
  open.push(server);
  await listening(server, 0, "127.0.0.1");
  return (server.address() as AddressInfo).port;
}

/** Asks with a Host header of the test's own, which fetch would not send. */
const ask = (port: number, target: string, host = "mill.local:3001") =>
  new Promise<{ status?: number; headers: http.IncomingHttpHeaders; body: string }>((resolve, reject) => {
    const request = http.get({ host: "127.0.0.1", port, path: target, headers: { host } }, (response) => {
      let body = "";
      response.on("data", (chunk) => {
        body += chunk;
      });
      response.on("end", () => resolve({ status: response.statusCode, headers: response.headers, body }));
    });
    request.on("error", reject);
  });

describe("the page that asks for trust", () => {
  const trusted = () => served(trustPages({ authorityFile, sitePort: 3000 }));

  test("gives the authority's certificate as the file that devices know how to install", async () => {
    const { headers, body } = await ask(await trusted(), "/trust/authority.crt");
    expect(headers["content-type"]).toBe("application/x-x509-ca-cert");
    expect(body).toContain("BEGIN CERTIFICATE");
  });

  test("tells every sort of device what to do, to compare the fingerprint first, and how to take the trust back", async () => {
    const { status, body } = await ask(await trusted(), "/trust?from=tag");
    expect(status).toBe(200);
    for (const words of ["Android", "iPhone", "Computers", "fingerprint", "terminal", "take the trust back"]) {
      expect(body).toContain(words);
    }
  });

  test("shows no fingerprint of its own, because whoever could change the certificate could change that too", async () => {
    expect((await ask(await trusted(), "/trust")).body).not.toMatch(/([0-9A-F]{2}:){8}/i);
  });

  test("sends everything else to the encrypted site, on the same host", async () => {
    const { status, headers } = await ask(await trusted(), "/floor?piece=K-201");
    expect([status, headers.location]).toEqual([307, "https://mill.local:3000/floor?piece=K-201"]);
  });

  test.each(["mill.local/@elsewhere.example", "a b", "[::1"])(
    "sends nobody to where the header %j points",
    async (host) => {
      const { status, headers } = await ask(await trusted(), "/floor", host);
      expect([status, headers.location]).toEqual([400, undefined]);
    },
  );
});

describe("the site", () => {
  test("the API is answered by itself, everything else by the pages, and a fault of either is reported", async () => {
    const faults: unknown[] = [];
    const port = await served(
      dispatcher({
        parts: async (_, response) => void response.end("[]"),
        api: async (_, response) => void response.end("api"),
        pages: async (request, response) => {
          if (request.url === "/broken") throw new Error("a bug");
          response.end("page");
        },
        report: (error) => faults.push(error),
      }),
    );
    expect((await ask(port, "/api/trpc/door.time")).body).toBe("api");
    expect((await ask(port, "/api/auth/session")).body).toBe("page");
    const broken = await ask(port, "/broken");
    expect(broken.status).toBe(500);
    expect(faults).toHaveLength(1);
    // what a person can read out, and no word of the error
    expect(broken.body).toContain(`Reference ${referenceOf(faults[0])}`);
    expect(broken.body).not.toContain("bug");
  });

  test("one that has been asked to end takes no batches, and still shows its pages", async () => {
    let isServing = true;
    const port = await served(
      dispatcher({
        parts: async (_, response) => void response.end("[]"),
        api: async (_, response) => void response.end("api"),
        pages: async (_, response) => void response.end("page"),
        report: () => undefined,
        isServing: () => isServing,
      }),
    );
    const statuses = async () => {
      const asked = ["/api/trpc/door.send", "/floor"].map((target) => ask(port, target));
      return (await Promise.all(asked)).map(({ status }) => status);
    };
    expect(await statuses()).toEqual([200, 200]);
    isServing = false;
    expect(await statuses()).toEqual([503, 200]);
  });

  test("without being told otherwise it serves this machine alone, and without a certificate nothing is encrypted", () => {
    const needed = {
      NEXTAUTH_URL: "http://localhost:3000",
      NEXTAUTH_SECRET: "sixteen letters!",
      NODE_ENV: "production",
    };
    expect(readSettings(needed as NodeJS.ProcessEnv)).toMatchObject({
      listenHost: "127.0.0.1",
      port: 3000,
      tls: undefined,
      isDemo: false,
      isDevelopment: false,
    });
  });

  test("nobody gives up what members write by a setting, except in a test", () => {
    const settings = {
      NEXTAUTH_URL: "http://localhost:3000",
      NEXTAUTH_SECRET: "a secret for the tests",
      NODE_ENV: "production",
    } as const;
    expect(readSettings(settings).isDurable).toBe(true);
    expect(() => readSettings({ ...settings, TACKFREE_UNFLUSHED: "1" })).toThrow("only a test");
    expect(readSettings({ ...settings, TACKFREE_UNFLUSHED: "1", TACKFREE_TEST: "1" }).isDurable).toBe(false);
  });

  test("without a secret for the sessions it does not start", () => {
    expect(() => readSettings({ NEXTAUTH_URL: "http://localhost:3000" } as unknown as NodeJS.ProcessEnv)).toThrow(
      "SECRET",
    );
  });
});

describe("turns", () => {
  test("of one shop come one after the other, a failure stops nobody, and other shops do not wait", async () => {
    const turns = new Turns();
    const [slow, order] = [new Promised<void>(), [] as string[]];
    const first = turns.take("mill", async () => {
      await slow.promise;
      order.push("first");
      throw new Error("refused by the database");
    });
    const second = turns.take("mill", async () => void order.push("second"));
    await turns.take("creamery", async () => void order.push("other"));
    slow.keep();
    await expect(first).rejects.toThrow("refused");
    await second;
    expect(order).toEqual(["other", "first", "second"]);
  });

  test("when the server closes, those that wait are finished, and no more are taken", async () => {
    const turns = new Turns();
    const order: string[] = [];
    const waiting = [1, 2, 3].map((turn) => turns.take("mill", async () => void order.push(`${turn}`)));
    const shut = turns.shut();
    await expect(turns.take("mill", async () => undefined)).rejects.toThrow("closing");
    await shut;
    await Promise.all(waiting);
    expect(order).toEqual(["1", "2", "3"]);
  });
});
