import { PassingFault } from "~/data/faults";

/** One thing after the other for each key, in the order in which they were asked for. */
export class Turns {
  private readonly lastByKey = new Map<string, Promise<unknown>>();
  private isShut = false;
  private waiting = 0;

  take<Result>(key: string, work: () => Promise<Result>): Promise<Result> {
    if (this.isShut) return Promise.reject(new PassingFault("the server is closing"));
    const before = this.lastByKey.get(key) ?? Promise.resolve();
    const mine = before.then(work);
    this.waiting += 1;
    const ended = mine.then(
      () => undefined,
      () => undefined, // whoever asked is told; whoever comes next need not know
    );
    this.lastByKey.set(key, ended);
    void ended.then(() => {
      this.waiting -= 1;
      if (this.lastByKey.get(key) === ended) this.lastByKey.delete(key);
    });
    return mine;
  }

  /** How many wait, or are at work. */
  get count(): number {
    return this.waiting;
  }

  /** Waits for all that are waiting; takes no more. */
  async shut(): Promise<void> {
    this.isShut = true;
    await Promise.all(this.lastByKey.values());
  }
}
