import type { Batch, BatchOutcome } from "~/data/ledger";

type Waiting = { batch: Batch; keep: (outcome: BatchOutcome) => void; fail: (error: unknown) => void };

/** More intents than this in one transaction only make the others wait for their answers. */
const mostIntents = 500;

/** Runs when it is a shop's turn, with what has come together by then; `take` gives the same however often it is called. */
type Turn = (shopId: string, take: () => Batch[]) => Promise<PromiseSettledResult<BatchOutcome>[]>;

/** Batches of several devices that wait for the same shop are judged together: one lock and one flush for all of them. */
export class Together {
  private readonly waitingByShop = new Map<string, Waiting[]>();

  constructor(private readonly turn: Turn) {}

  commit(batch: Batch): Promise<BatchOutcome> {
    return new Promise((keep, fail) => {
      const one = { batch, keep, fail };
      const waiting = this.waitingByShop.get(batch.shopId);
      if (waiting) waiting.push(one);
      else {
        this.waitingByShop.set(batch.shopId, [one]);
        void this.next(batch.shopId);
      }
    });
  }

  /** Batches that have not had their turn. */
  get count(): number {
    return [...this.waitingByShop.values()].reduce((sum, waiting) => sum + waiting.length, 0);
  }

  private async next(shopId: string): Promise<void> {
    let taken: Waiting[] | undefined;
    const take = () => {
      taken ??= this.takeOf(shopId);
      return taken;
    };
    try {
      const settled = await this.turn(shopId, () => take().map(({ batch }) => batch));
      for (const [index, { keep, fail }] of take().entries()) {
        const outcome = settled[index];
        if (outcome?.status === "fulfilled") keep(outcome.value);
        else fail(outcome?.reason ?? new Error("a batch was left out"));
      }
    } catch (error) {
      for (const { fail } of take()) fail(error);
    }
  }

  /** In the order of their arrival. Whoever has no room left is next. */
  private takeOf(shopId: string): Waiting[] {
    const waiting = this.waitingByShop.get(shopId) ?? [];
    let count = 0;
    const isOver = ({ batch: { envelopes } }: Waiting, index: number) => {
      count += envelopes.length;
      return index > 0 && count > mostIntents;
    };
    const end = waiting.findIndex(isOver);
    const [taken, left] = end < 0 ? [waiting, []] : [waiting.slice(0, end), waiting.slice(end)];
    if (left.length === 0) this.waitingByShop.delete(shopId);
    else {
      this.waitingByShop.set(shopId, left);
      void this.next(shopId);
    }
    return taken;
  }
}
