/** Plays lines through the rules in memory, by the same way that the rules' own tests go. */
import { entranceOf } from "~/core/shop/intents/entrances";
import { MemoryFacts } from "~/core/shop/memory-facts";
import type { InstantMs } from "~/core/units";
import { envelopeOf, UnexpectedRuling } from "../../seed/envelope";
import { hands } from "../../seed/people";
import { arrivalAt, type Line } from "../../seed/script";
import { enter, rule } from "../core/support/shop";

/**
 * @param facts what was played before
 * @throws where a ruling is not what its line expects
 */
export function playInMemory(lines: readonly Line[], facts = new MemoryFacts()): MemoryFacts {
  const ids = new NewIds();
  const seqs: { at: InstantMs; seq: number }[] = [];
  for (const [index, line] of lines.entries()) {
    const now = arrivalAt(line);
    const seenSeq = seqs.findLast((known) => known.at <= line.at)?.seq ?? 0;
    const around = { seq: index + 1, isSharedTablet: hands[line.by].isSharedTablet };
    const ruling = entranceOf(line.kind)
      ? enter(facts, line.kind, line.body, now)
      : rule(facts, envelopeOf(line, { deviceSeq: index + 1, seenSeq }), now, around);
    seqs.push({ at: now, seq: index + 1 });
    for (const event of ruling.events)
      for (const change of event.changes) if ("isNew" in change && change.isNew) ids.take(change.id, line);
    const got = ruling.verdict === "accepted" ? "accepted" : ruling.refusal.kind;
    if (got !== line.expect) throw new UnexpectedRuling(line, got, ruling.verdict === "refused" ? ruling.refusal : "");
  }
  return facts;
}

/** The database takes no id twice; memory would. */
class NewIds {
  private readonly taken = new Map<string, string>();

  take(id: string, line: Line): void {
    const other = this.taken.get(id);
    if (other !== undefined) throw new Error(`“${line.name}” makes what “${other}” made`);
    this.taken.set(id, line.name);
  }
}
