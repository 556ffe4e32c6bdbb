/** Runs `public/sw.js` with a network and caches that a test holds. */
import { readFileSync } from "node:fs";
import vm from "node:vm";

const script = readFileSync(new URL("../../../public/sw.js", import.meta.url), "utf8");
const origin = "https://shop.test";

class OneCache {
  readonly kept = new Map<string, Response>();
  async match(asked: string | Request) {
    return this.kept.get(addressOf(asked))?.clone();
  }
  async put(asked: string | Request, response: Response) {
    this.kept.set(addressOf(asked), response);
  }
}

const addressOf = (asked: string | Request) => new URL(typeof asked === "string" ? asked : asked.url, origin).href;

/** Caches outlive a worker: give the same ones to the next build. */
export class Caches {
  readonly named = new Map<string, OneCache>();
  async open(name: string) {
    const cache = this.named.get(name) ?? new OneCache();
    this.named.set(name, cache);
    return cache;
  }
  async match(asked: string | Request) {
    for (const cache of this.named.values()) {
      const found = await cache.match(asked);
      if (found) return found;
    }
    return undefined;
  }
  keys = async () => [...this.named.keys()];
  delete = async (name: string) => this.named.delete(name);
}

type Network = (path: string) => Promise<Response>;

export class Worker {
  private readonly handlers = new Map<string, (event: unknown) => void>();
  readonly asked: string[] = [];
  network: Network;
  /** Ends the worker's patience with a slow network, at the moment that the test chooses. */
  private readonly timers: (() => void)[] = [];

  constructor(build: string, caches: Caches, network: Network) {
    this.network = network;
    const fetch = (asked: string | Request) => {
      const { pathname, search } = new URL(addressOf(asked));
      this.asked.push(pathname + search);
      return this.network(pathname + search);
    };
    const self = {
      location: new URL(`${origin}/sw.js?build=${build}`),
      addEventListener: (kind: string, handle: (event: unknown) => void) => this.handlers.set(kind, handle),
      skipWaiting: async () => {},
      clients: { claim: async () => {} },
    };
    const setTimeout = (run: () => void) => this.timers.push(run);
    vm.runInNewContext(script, { self, caches, fetch, URL, Set, Promise, Error, Response, setTimeout });
  }

  /** The worker's answer; undefined when it leaves the question to the browser. */
  async open(path: string, { mode = "navigate", method = "GET" } = {}): Promise<Response | undefined> {
    let answer: Promise<Response> | undefined;
    const request = { url: origin + path, method, mode };
    const respondWith = (given: Promise<Response>) => {
      answer = given;
    };
    this.handlers.get("fetch")?.({ request, respondWith, waitUntil: () => {} });
    return answer;
  }

  async keep(paths: string[], assets: string[] = []): Promise<unknown> {
    let kept: Promise<unknown> = Promise.resolve();
    let told: unknown;
    const postMessage = (message: unknown) => {
      told = message;
    };
    const waitUntil = (done: Promise<unknown>) => {
      kept = done;
    };
    this.handlers.get("message")?.({ data: { cache: paths, assets }, ports: [{ postMessage }], waitUntil });
    await kept;
    return told;
  }

  runOutOfPatience(): void {
    for (const run of this.timers.splice(0)) run();
  }
}
