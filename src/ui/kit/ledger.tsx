import { type ReactNode, useId } from "react";

export type LedgerColumn = {
  id: string;
  words: string;
  /** Figures stand to the right, in tabular numerals. */
  isNumeric?: boolean;
  /** A column of sums, on sunk ground. */
  isTotal?: boolean;
};

export type LedgerRow = {
  id: string;
  /** By column id. The first column names the row. */
  cells: Record<string, ReactNode>;
  /** A sum is ruled off; a plan is dashed and slanted. */
  kind?: "plain" | "sum" | "plan";
};

export type LedgerProps = {
  caption: string;
  isCaptionHidden?: boolean;
  columns: LedgerColumn[];
  /** For two columns whose meaning the caption already says. */
  isHeadHidden?: boolean;
  rows: LedgerRow[];
  foot?: LedgerRow;
};

/** Ruled lines, names on the left, figures on the right. On a phone it scrolls inside itself and the page stays still. */
export function Ledger({ caption, isCaptionHidden, columns, isHeadHidden, rows, foot }: LedgerProps) {
  const captionId = useId();
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: it scrolls, so the keyboard must reach it (WCAG 2.1.1)
    <section className="ledger-scroll" aria-labelledby={captionId} tabIndex={0}>
      <table className="ledger">
        <caption id={captionId} className={isCaptionHidden ? "sr-only" : undefined}>
          {caption}
        </caption>
        <thead className={isHeadHidden ? "sr-only" : undefined}>
          <tr>
            {columns.map(({ id, words, isNumeric }) => (
              <th key={id} scope="col" data-numeric={isNumeric || undefined}>
                {words}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map((row) => (
            <Row key={row.id} row={row} columns={columns} />
          ))}
        </tbody>
        {foot && (
          <tfoot>
            <Row row={foot} columns={columns} />
          </tfoot>
        )}
      </table>
    </section>
  );
}

function Row({ row, columns }: { row: LedgerRow; columns: LedgerColumn[] }) {
  const [first, ...rest] = columns;
  return (
    <tr data-kind={row.kind}>
      {first && <th scope="row">{row.cells[first.id]}</th>}
      {rest.map(({ id, isNumeric, isTotal }) => (
        <td key={id} data-numeric={isNumeric || undefined} data-total={isTotal || undefined}>
          {row.cells[id] ?? <Nothing />}
        </td>
      ))}
    </tr>
  );
}

/** A dash for the eye, a word for the ear. */
function Nothing() {
  return (
    <>
      <span aria-hidden="true">–</span>
      <span className="sr-only">none</span>
    </>
  );
}

/** A corrected figure: the first entry stays, struck, beside the one that counts. */
export function Corrected({ was, now }: { was: string; now: string }) {
  return (
    <span className="corrected">
      <s>{was}</s> <ins>{now}</ins>
    </span>
  );
}
