/** What whoever watches over the servers can ask them, and who may. */
import { readFileSync } from "node:fs";
import http from "node:http";
import type { AddressInfo } from "node:net";
import path from "node:path";
import * as fc from "fast-check";
import { afterAll, afterEach, describe, expect, test } from "vitest";
import { closeDatabase } from "~/data/db";
import { checksOf, migrationsIn, type ReadyChecks, readinessOf, readyHandler } from "../../server/health";
import type { Handler } from "../../server/http";
import { metricsHandler } from "../../server/metrics/endpoint";
import { Figures } from "../../server/metrics/figures";
import { hubGauges, processGauges } from "../../server/metrics/gauges";
import { Counter, exposition, expositionType, Gauge, Histogram } from "../../server/metrics/instruments";
import { freshShop, pieceBody } from "../support/database";
import { Promised } from "./support/promised";
import { ShopServer } from "./support/shop-server";

const opened: http.Server[] = [];
afterEach(() => {
  for (const server of opened.splice(0)) server.close();
});
afterAll(closeDatabase);

async function served(handler: Handler): Promise<number> {
  const server = http.createServer((request, response) => void handler(request, response));
  opened.push(server);
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  return (server.address() as AddressInfo).port;
}

const ask = (port: number, headers: http.OutgoingHttpHeaders = {}) =>
  new Promise<{ status?: number; type?: string; body: string }>((resolve, reject) => {
    const request = http.get({ host: "127.0.0.1", port, path: "/", headers }, (response) => {
      let body = "";
      response.on("data", (data: Buffer) => {
        body += data.toString();
      });
      response.on("end", () => resolve({ status: response.statusCode, type: response.headers["content-type"], body }));
    });
    request.on("error", reject);
  });

const noFaults = (error: unknown): void => {
  throw error;
};

describe("a server that is asked whether people may be sent to it", () => {
  const allWell: ReadyChecks = {
    draining: () => false,
    database: async () => true,
    migrations: async () => true,
    disk: async () => true,
  };
  const answer = async (checks: Partial<ReadyChecks>) => {
    const readiness = readinessOf({ ...allWell, ...checks }, { withinMs: 30, keptMs: 0 });
    const { status, body } = await ask(await served(readyHandler(readiness)));
    return [status, JSON.parse(body)];
  };

  test("says yes in one line, or which of its checks has failed, and no more", async () => {
    expect(await answer({})).toEqual([200, { ready: true, failing: [] }]);
    expect(await answer({ draining: () => true })).toEqual([503, { ready: false, failing: ["draining"] }]);
    expect(await answer({ disk: async () => false })).toEqual([503, { ready: false, failing: ["disk"] }]);
    const away = async () => {
      throw new Error("postgresql://fern:secret@db is away");
    };
    expect(await answer({ database: away, migrations: away })).toEqual([
      503,
      { ready: false, failing: ["database", "migrations"] },
    ]);
  });

  test("a database that hangs has failed in time, and is not asked by more and more", async () => {
    let asked = 0;
    const answered = new Promised<boolean>();
    const database = () => {
      asked += 1;
      return answered.promise;
    };
    const readiness = readinessOf({ ...allWell, database }, { withinMs: 5, keptMs: 0 });
    for (let count = 0; count < 5; count += 1) expect((await readiness()).failing).toEqual(["database"]);
    expect(asked).toBe(1);
    answered.keep(true);
    await answered.promise;
    expect((await readiness()).failing).toEqual([]);
  });

  test("of this program on the database of the tests every check is met, and one migration more is missed", async () => {
    const migrations = migrationsIn(path.resolve("prisma/migrations"));
    const checks = checksOf({ migrations, dataFolder: ".", draining: () => false });
    const patient = { withinMs: 30_000, keptMs: 0 }; // the first question of a process also connects
    expect(await readinessOf(checks, patient)()).toEqual({ isReady: true, failing: [] });
    const newer = checksOf({
      migrations: [...migrations, "29990101000000_next"],
      dataFolder: "/nowhere at all",
      draining: () => false,
    });
    expect((await readinessOf(newer, patient)()).failing).toEqual(["migrations", "disk"]);
  });
});

describe("the figures", () => {
  const token = "a token of the collector";
  const open = (given?: string) => served(metricsHandler([], { token: given, report: noFaults }));

  test.each([
    ["this machine", {}, 200, 200],
    ["this machine, through a proxy that lets everybody in", { "x-forwarded-for": "203.0.113.9" }, 404, 401],
    ["a page of another site, under a name that leads here", { host: "figures.example" }, 404, 401],
    ["somebody with a wrong token", { authorization: "Bearer guessed" }, 404, 401],
    ["somebody with a broken address", { host: "[" }, 404, 401],
    ["the collector", { authorization: `Bearer ${token}`, "x-forwarded-for": "203.0.113.9" }, 404, 200],
  ])("asked for by %s", async (_, headers, withoutToken, withToken) => {
    expect((await ask(await open(), headers)).status).toBe(withoutToken);
    expect((await ask(await open(token), headers)).status).toBe(withToken);
  });

  test("have labels whose values are all known beforehand, and a row for each from the start", async () => {
    const server = await ShopServer.start();
    const instruments = [...new Figures().instruments, ...hubGauges(server.hub), ...processGauges()];
    const words = instruments.flatMap(({ labels }) => Object.values(labels).flat());
    expect(words.filter((word) => !/^[a-z0-9-]{1,40}$/.test(word))).toEqual([]);
    // one row of a histogram for every bucket: all of it together stays what a collector does not notice
    const page = await exposition(instruments, noFaults);
    expect(page.split("\n").length).toBeLessThan(1_000);
    expect(new Set(instruments.map(({ name }) => name)).size).toBe(instruments.length);
    const described = readFileSync("docs/operations.md", "utf8");
    for (const { name } of instruments) {
      expect(page).toContain(`# HELP ${name} `);
      expect(described).toContain(`| \`${name}\` `);
    }
    await server.stop();
  });

  test("hold nothing that somebody wrote, however strange it is", () => {
    fc.assert(
      fc.property(fc.array(fc.string()), (written) => {
        const figures = new Figures();
        const names = () => figures.instruments.flatMap((one) => [...seriesOf(one.lines() as string).keys()]);
        const before = new Set(names());
        for (const kind of written) {
          const answer = { intentId: kind, recordedAt: 0, verdict: "accepted" as const };
          figures.ruled({ kind, answer, isRepeated: false, tookMs: 1 });
          figures.upgradeRefused(kind as unknown as number);
        }
        const added = names().filter((name) => !before.has(name));
        expect(added.filter((name) => !name.endsWith('="other"}'))).toEqual([]);
      }),
    );
  });

  test("tell of a shop at work: sockets, rooms, who is there, and how much is stored", async () => {
    const [server, shop] = [await ShopServer.start(), await freshShop()];
    await server.floor(shop.owner);
    const body = pieceBody(shop);
    await server.accepted(shop.owner, ["add-piece", body]);
    await server.notes(shop.owner, body.pieceId);
    const found = seriesOf(await exposition(hubGauges(server.hub), noFaults));
    expect(found.get('tackfree_sockets{room="floor"}')).toBe(1);
    expect(found.get('tackfree_sockets{room="notes"}')).toBe(1);
    expect(found.get('tackfree_rooms{room="floor",state="live"}')).toBe(1);
    expect(found.get('tackfree_rooms{room="floor",state="draining"}')).toBe(0);
    expect(found.get('tackfree_log_bytes{kind="ledger"}')).toBeGreaterThan(0);
    expect(found.get('tackfree_log_rows{kind="floor"}')).toBeGreaterThan(0);
    await server.stop();
  });
});

/** The value of each line that is none of the comments. */
const seriesOf = (page: string): Map<string, number> =>
  new Map(
    page
      .split("\n")
      .filter((line) => line !== "" && !line.startsWith("#"))
      .map((line) => [line.slice(0, line.lastIndexOf(" ")), Number(line.slice(line.lastIndexOf(" ") + 1))]),
  );

describe("the page of figures", () => {
  // the example of Prometheus' own page on the format, version 0.0.4:
  // https://prometheus.io/docs/instrumenting/exposition_formats/#text-format-example
  test("is written as the collector's own description of its format shows", async () => {
    const requests = new Counter("http_requests_total", "The total number of HTTP requests.", {
      method: ["post"],
      code: ["200", "400"],
    });
    requests.add({ method: "post", code: "200" }, 1027);
    requests.add({ method: "post", code: "400" }, 3);
    expect(requests.lines()).toBe(
      "# HELP http_requests_total The total number of HTTP requests.\n# TYPE http_requests_total counter\n" +
        'http_requests_total{method="post",code="200"} 1027\nhttp_requests_total{method="post",code="400"} 3\n',
    );
    const strange = new Gauge("free", 'C:\\DIR\nof "this"', { path: ['C:\\DIR\\FILE.TXT\n"x"'] }, () => []);
    expect(await strange.lines()).toBe(
      '# HELP free C:\\\\DIR\\nof "this"\n# TYPE free gauge\nfree{path="C:\\\\DIR\\\\FILE.TXT\\n\\"x\\""} 0\n',
    );
    expect(expositionType).toContain("version=0.0.4");
  });

  test("a histogram's buckets hold those below them too, its ends included, and the last holds all", () => {
    const bounds = [0.5, 1, 2];
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 0, max: 12 })), (quarters) => {
        const histogram = new Histogram("wait", "w", {}, bounds);
        const values = quarters.map((quarter) => quarter / 4); // exact in binary, so that sums are
        for (const value of values) histogram.observe({}, value);
        const found = seriesOf(histogram.lines());
        for (const bound of bounds)
          expect(found.get(`wait_bucket{le="${bound}"}`)).toBe(values.filter((value) => value <= bound).length);
        expect(found.get('wait_bucket{le="+Inf"}')).toBe(values.length);
        expect(found.get("wait_count")).toBe(values.length);
        expect(found.get("wait_sum")).toBe(values.reduce((sum, value) => sum + value, 0));
      }),
    );
  });

  test("leaves out a figure that cannot be read now, says so in the log, and keeps the others", async () => {
    const faults: unknown[] = [];
    const broken = new Gauge("away", "a", {}, async () => {
      throw new Error("the database is away");
    });
    const page = await exposition([broken, new Counter("there", "t", {})], (error) => faults.push(error));
    expect(page).toBe("# HELP there t\n# TYPE there counter\nthere 0\n");
    expect(faults).toHaveLength(1);
  });
});
