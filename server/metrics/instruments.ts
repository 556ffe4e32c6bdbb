/**
 * Counters, gauges and histograms, and how they are written down: the text format of Prometheus, version 0.0.4
 * (https://prometheus.io/docs/instrumenting/exposition_formats/).
 *
 * A label may only have values that are known beforehand, and never an id, a name, an address or a text: whoever collects
 * the figures keeps a row for every value, for months. Anything else is counted under "other".
 */
export type LabelLists = Readonly<Record<string, readonly string[]>>;
export type LabelValues<Lists extends LabelLists> = { readonly [Label in keyof Lists]: Lists[Label][number] };

const other = "other";

export interface Instrument {
  readonly name: string;
  readonly labels: LabelLists;
  /** Its lines, each ended; nothing where it has no figures. */
  lines(): string | Promise<string>;
}

const escaped = (text: string): string => text.replaceAll("\\", "\\\\").replaceAll("\n", "\\n").replaceAll('"', '\\"');

const labelled = (pairs: readonly (readonly [string, string])[]): string =>
  pairs.length === 0 ? "" : `{${pairs.map(([label, value]) => `${label}="${escaped(value)}"`).join(",")}}`;

const headOf = (name: string, help: string, type: "counter" | "gauge" | "histogram"): string =>
  `# HELP ${name} ${help.replaceAll("\\", "\\\\").replaceAll("\n", "\\n")}\n# TYPE ${name} ${type}\n`;

function pairsOf(lists: LabelLists, values: Readonly<Record<string, string>>): [string, string][] {
  return Object.entries(lists).map(([label, known]) => {
    const value = values[label];
    return [label, value !== undefined && known.includes(value) ? value : other];
  });
}

/** Every combination of the values of labels. */
function combinations(lists: LabelLists): Record<string, string>[] {
  return Object.entries(lists).reduce<Record<string, string>[]>(
    (found, [label, values]) => found.flatMap((one) => values.map((value) => ({ ...one, [label]: value }))),
    [{}],
  );
}

/** Only ever grows, from the start of the process. Every combination of its labels is there from the start, at zero. */
export class Counter<const Lists extends LabelLists> implements Instrument {
  private readonly counts = new Map<string, number>();

  constructor(
    readonly name: string,
    private readonly help: string,
    readonly labels: Lists,
  ) {
    for (const values of combinations(labels)) this.counts.set(labelled(pairsOf(labels, values)), 0);
  }

  add(values: LabelValues<Lists>, count = 1): void {
    const key = labelled(pairsOf(this.labels, values));
    this.counts.set(key, (this.counts.get(key) ?? 0) + count);
  }

  lines(): string {
    const lines = [...this.counts].map(([key, count]) => `${this.name}${key} ${count}\n`);
    return headOf(this.name, this.help, "counter") + lines.join("");
  }
}

type Series = { counts: number[]; count: number; sum: number };

/** How values spread over buckets, each of which also counts what lies in the smaller ones. */
export class Histogram<const Lists extends LabelLists> implements Instrument {
  private readonly series = new Map<string, { pairs: [string, string][]; found: Series }>();

  /** @param bounds upper ends of the buckets, included, growing; one without an end comes by itself */
  constructor(
    readonly name: string,
    private readonly help: string,
    readonly labels: Lists,
    private readonly bounds: readonly number[],
  ) {
    for (const values of combinations(labels)) this.seriesOf(values);
  }

  observe(values: LabelValues<Lists>, value: number): void {
    const found = this.seriesOf(values);
    found.count += 1;
    found.sum += value;
    const bucket = this.bounds.findIndex((bound) => value <= bound);
    if (bucket >= 0) found.counts[bucket] = (found.counts[bucket] as number) + 1;
  }

  lines(): string {
    const { name, help, bounds } = this;
    const lines = [...this.series.values()].flatMap(({ pairs, found: { counts, count, sum } }) => {
      let upTo = 0;
      const buckets = bounds.map((bound, index) => {
        upTo += counts[index] as number;
        return `${name}_bucket${labelled([...pairs, ["le", String(bound)]])} ${upTo}\n`;
      });
      const all = `${name}_bucket${labelled([...pairs, ["le", "+Inf"]])} ${count}\n`;
      return [...buckets, all, `${name}_sum${labelled(pairs)} ${sum}\n`, `${name}_count${labelled(pairs)} ${count}\n`];
    });
    return headOf(name, help, "histogram") + lines.join("");
  }

  private seriesOf(values: Readonly<Record<string, string>>): Series {
    const pairs = pairsOf(this.labels, values);
    const key = labelled(pairs);
    const known = this.series.get(key);
    if (known) return known.found;
    const found = { counts: this.bounds.map(() => 0), count: 0, sum: 0 };
    this.series.set(key, { pairs, found });
    return found;
  }
}

export type Reading<Lists extends LabelLists> = readonly [values: LabelValues<Lists>, value: number];

/** What is so at the moment: read when somebody asks. A combination of labels that is not read is zero. */
export class Gauge<const Lists extends LabelLists> implements Instrument {
  constructor(
    readonly name: string,
    private readonly help: string,
    readonly labels: Lists,
    private readonly read: () => readonly Reading<Lists>[] | Promise<readonly Reading<Lists>[]>,
  ) {}

  async lines(): Promise<string> {
    const valueByKey = new Map(combinations(this.labels).map((one) => [labelled(pairsOf(this.labels, one)), 0]));
    for (const [values, value] of await this.read()) {
      const key = labelled(pairsOf(this.labels, values));
      valueByKey.set(key, (valueByKey.get(key) ?? 0) + value);
    }
    const lines = [...valueByKey].map(([key, value]) => `${this.name}${key} ${value}\n`);
    return headOf(this.name, this.help, "gauge") + lines.join("");
  }
}

export const expositionType = "text/plain; version=0.0.4; charset=utf-8";

/** The page that is collected. A figure that cannot be read at the moment is left out, and the others are not. */
export async function exposition(
  instruments: readonly Instrument[],
  report: (error: unknown) => void,
): Promise<string> {
  const parts = instruments.map(async (one) => {
    try {
      return await one.lines();
    } catch (error) {
      report(error);
      return "";
    }
  });
  return (await Promise.all(parts)).join("");
}
