import type { Facts } from "~/core/shop/facts";
import type { InstantMs } from "~/core/units";
import { clockTime, dayName } from "../format";
import { Wordmark } from "../kit/wordmark";
import { cautionWords, deferWords, maskWords } from "../piece/caution-words";
import { area, volume } from "./amount-words";
import { dryWords, genericWords, potLifeWords, poured, shelfWords, strainerWords, workedLines } from "./batch-words";
import { CupLoadsDrawn } from "./cup-loads-drawn";
import type { GunSetup } from "./gun-setup";
import { gunWords, roomWords } from "./mixing-head";
import type { BatchShown } from "./mixing-view";
import "./mixing-print.css";

type MixingPrintProps = {
  batches: readonly BatchShown[];
  facts: Facts;
  gun: GunSetup;
  roomId: string | undefined;
  now: InstantMs;
  zone: string;
};

/** The sheet on paper, for the wall beside the gun: black on white, with room for a pencil. The screen shows nothing of it. */
export function MixingPrint({ batches, facts, gun, roomId, now, zone }: MixingPrintProps) {
  const cautions = [...new Map(batches.flatMap((shown) => shown.cautions).map((one) => [one.id, one])).values()];
  const mask = maskWords(cautions);
  const airs = [...new Set(batches.flatMap(({ air }) => air ?? []))];
  return (
    <div className="mixing-print" data-light="print">
      <header className="print-head">
        <Wordmark />
        <p>
          <b className="print-title">Mixing sheet</b>
          <span>
            {dayName(now, zone)}, {roomWords(facts, roomId, now, zone)}
          </span>
          <span>{gunWords(gun)}</span>
        </p>
      </header>
      {batches.map((shown) => (
        <PrintedBatch key={shown.sheet.id} shown={shown} gun={gun} />
      ))}
      <footer className="print-foot">
        {cautions.map(({ id }) => (
          <p key={id}>{cautionWords[id]}</p>
        ))}
        {mask && <p>{mask}</p>}
        {airs.map((air) => (
          <p key={air}>{air}</p>
        ))}
        <p className="fine">
          {cautions.length > 0 ? deferWords(cautions) : "The data sheet and local rules come first."} Printed{" "}
          {dayName(now, zone)} {clockTime(now, zone)}.
        </p>
      </footer>
    </div>
  );
}

function PrintedBatch({ shown, gun }: { shown: BatchShown; gun: GunSetup }) {
  const { product, mix, turns } = shown;
  // one thing alone is the mix itself
  const pours = poured(shown).length > 1 ? poured(shown) : [];
  const details = [
    ["Dries to", dryWords(shown)],
    ["Strainer", strainerWords(shown)],
    ["Pot life", potLifeWords(shown)],
    ["Shelf", shelfWords(shown).words],
    ["Film", genericWords(shown)],
  ].filter(([, words]) => words !== undefined);
  return (
    <section className="print-batch">
      <h2 className="print-title">{product.name}</h2>
      <div className="print-mix">
        <p className="print-figure">
          <span>Mix</span>
          <b>{volume(mix.millilitres)}</b>
        </p>
        <table>
          <tbody>
            {workedLines(shown).map(({ words, result }) => (
              <tr key={words}>
                <td>{words}</td>
                <td>{result}</td>
              </tr>
            ))}
            {pours.map(({ words, millilitres }) => (
              <tr key={words} data-pour>
                <td>{words}</td>
                <td>{volume(millilitres)}</td>
              </tr>
            ))}
          </tbody>
        </table>
        {!shown.isByHand && <CupLoadsDrawn cups={mix.cups} cupMillilitres={gun.cupMillilitres} />}
      </div>
      <p className="print-details">
        {details.map(([name, words]) => (
          <span key={name}>
            <b>{name}:</b> {words}
          </span>
        ))}
      </p>
      <ol className="print-turns">
        {turns.map((turn) => (
          <li key={turn.pieceId}>
            <i className="print-circle" />
            <b className="print-tag">{turn.tag}</b>
            <span>
              {turn.faces.join("; ")}, {area(turn.squareMetres)}
            </span>
            <span>{volume(turn.millilitres)}</span>
            <em className="print-done">done at ____ : ____</em>
          </li>
        ))}
      </ol>
      <p className="print-pencil">
        Mixed at ____ : ____ &nbsp; by ______ &nbsp; Can ______ &nbsp; Left in can ______ L
      </p>
    </section>
  );
}
