/** Plays lines through the one door, each at its own time, as members' devices would have sent them. */
import { entranceOf } from "~/core/shop/intents/entrances";
import type { InstantMs } from "~/core/units";
import { createAccount, takeSeat } from "~/data/accounts";
import type { Transaction } from "~/data/db";
import { rememberDevice } from "~/data/devices";
import { commitBatch, commitEntrance } from "~/data/ledger";
import type { Answer } from "~/data/rulings";
import { envelopeOf, UnexpectedRuling } from "./envelope";
import { deviceIdOf, type Hand, hands, memberIdOf, shopId } from "./people";
import { arrivalAt, type Line } from "./script";

/** Lines that reach the server together: one device's, at one time. */
function deliveriesOf(lines: readonly Line[]): Line[][] {
  const deliveries: Line[][] = [];
  for (const line of lines) {
    const [last] = deliveries.at(-1) ?? [];
    const isTogether =
      last &&
      last.by === line.by &&
      arrivalAt(last) === arrivalAt(line) &&
      !entranceOf(last.kind) &&
      !entranceOf(line.kind);
    if (isTogether) deliveries.at(-1)?.push(line);
    else deliveries.push([line]);
  }
  return deliveries;
}

/**
 * @param lines in the order of their arrival
 * @param password what each member signs in with; names are those of the people
 * @throws where the shop rules otherwise than a line expects
 */
export async function play(lines: readonly Line[], password: string): Promise<void> {
  const table = new Table(password);
  for (const delivery of deliveriesOf(lines)) await table.deliver(delivery);
}

class Table {
  private readonly lastDeviceSeq = new Map<string, number>();
  /** What the ledger had come to after each delivery. */
  private readonly seqs: { at: InstantMs; seq: number }[] = [];

  constructor(private readonly password: string) {}

  async deliver(delivery: readonly Line[]): Promise<void> {
    const [line] = delivery as [Line];
    if (entranceOf(line.kind)) return expectRuling(line, await this.enter(line));
    const { by } = line;
    const now = arrivalAt(line);
    await this.introduce(by, now);
    const session = {
      memberId: memberIdOf(hands[by].person),
      deviceId: deviceIdOf(by),
      isSharedTablet: hands[by].isSharedTablet,
    };
    const envelopes = delivery.map((each) =>
      envelopeOf(each, { deviceSeq: this.nextSeq(by), seenSeq: this.seqAt(each.at) }),
    );
    const { rulings, failed, seq } = await commitBatch({ shopId, envelopes, session, now });
    if (failed[0]) throw failed[0].error;
    this.seqs.push({ at: now, seq });
    delivery.forEach((each, index) => {
      expectRuling(each, rulings[index] as Answer);
    });
  }

  private enter(line: Line): Promise<Answer> {
    const { person } = hands[line.by];
    const { kind, intentId, body, at: now } = line;
    const alongside = async (tx: Transaction, memberId: string) => {
      const account = await createAccount({ signInName: person, password: this.password, now }, tx);
      if (!account.ok) throw new Error(`no account for ${person}: ${account.refusal.kind}`);
      await takeSeat({ accountId: account.value.accountId, shopId, memberId }, tx);
    };
    return commitEntrance({ kind, intentId, shopId, body, now }, { alongside });
  }

  /** A device is known before it sends anything; the tablet is nobody's. */
  private async introduce(by: Hand, now: InstantMs): Promise<void> {
    if (this.lastDeviceSeq.has(by)) return;
    const { person, device: name, isSharedTablet } = hands[by];
    const memberId = isSharedTablet ? undefined : memberIdOf(person);
    await rememberDevice({ shopId, deviceId: deviceIdOf(by), memberId, name, now });
    this.lastDeviceSeq.set(by, 0);
  }

  private nextSeq(by: Hand): number {
    const next = (this.lastDeviceSeq.get(by) ?? 0) + 1;
    this.lastDeviceSeq.set(by, next);
    return next;
  }

  private seqAt(at: InstantMs): number {
    return this.seqs.findLast((known) => known.at <= at)?.seq ?? 0;
  }
}

function expectRuling(line: Line, answer: Answer): void {
  const got = answer.verdict === "accepted" ? "accepted" : answer.refusal.kind;
  if (got !== line.expect)
    throw new UnexpectedRuling(line, got, answer.verdict === "refused" ? answer.refusal : undefined);
}
