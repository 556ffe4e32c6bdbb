"use client";
/** One product: its data sheet as it stands, what is odd about it, where it is used, and the versions before. */
import { useState } from "react";
import { sheetRemarks } from "~/core/coating/sheet-order";
import type { Facts } from "~/core/shop/facts";
import type { Product, Sheet } from "~/core/shop/tables";
import { celsius, humidity } from "~/ui/format";
import { Board } from "~/ui/kit/board";
import { Key, Keys } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { Picks } from "~/ui/kit/picks";
import { Tag } from "~/ui/kit/tag";
import { familyWords } from "~/ui/trade-words";
import { FactorPart } from "./factor-part";
import { partsOf, rungsOf, typicalFields } from "./sheet-view";
import { usesOf, versionsOf } from "./shelf-view";
import { SourceMark } from "./source-mark";
import { TimeLadder } from "./time-ladder";

export type ProductAct = "edit" | "copy" | "retire";

type ProductSheetProps = { facts: Facts; product: Product; mayPlan: boolean; onAct: (act: ProductAct) => void };

export function ProductSheet({ facts, product, mayPlan, onAct }: ProductSheetProps) {
  const versions = versionsOf(facts, product.id);
  const [newest] = versions;
  const [read, setRead] = useState<string>();
  const sheet = versions.find(({ id }) => id === read) ?? newest;
  const about = [familyWords[product.family], product.colour].filter(Boolean).join(" · ");
  const keys = mayPlan && product.retiredAt === undefined && (
    <Keys>
      {newest && (
        <Key kind="main" glove onPress={() => onAct("edit")}>
          Write it from the can
        </Key>
      )}
      {newest && (
        <Key glove onPress={() => onAct("copy")}>
          Copy figures
        </Key>
      )}
      <Key kind="quiet" glove onPress={() => onAct("retire")}>
        Retire it
      </Key>
    </Keys>
  );
  return (
    <Board title={product.name} aside={<span className="shelf-about">{about}</span>}>
      {product.retiredAt !== undefined && (
        <Notice kind="stuck" title="Retired">
          No new coat is planned with it. Coats that lie keep their sheet.
        </Notice>
      )}
      {versions.length > 1 && (
        <Picks
          label="Version of the sheet"
          picks={versions.map(({ id, version, origin }) => ({
            id,
            words: `Version ${version}`,
            detail: origin === "generic" ? "typical" : "from the can",
          }))}
          chosen={sheet?.id ?? ""}
          onChoose={setRead}
        />
      )}
      {sheet ? (
        <Figures
          product={product}
          sheet={sheet}
          versions={versions}
          isNewest={sheet === newest}
          onWrite={mayPlan && product.retiredAt === undefined ? () => onAct("edit") : undefined}
        />
      ) : (
        <p>It leaves no film, so there are no times. What the can says about gloves, air and fire still counts.</p>
      )}
      {newest && <FactorPart product={product} sheet={newest} mayPlan={mayPlan} />}
      <Uses facts={facts} productId={product.id} />
      {keys}
    </Board>
  );
}

type FiguresProps = {
  product: Product;
  sheet: Sheet;
  versions: readonly Sheet[];
  isNewest: boolean;
  onWrite?: () => void;
};

function Figures({ product, sheet, versions, isNewest, onWrite }: FiguresProps) {
  const typical = typicalFields(versions, sheet);
  return (
    <>
      {sheet.origin === "generic" && isNewest && (
        <Notice
          kind="person"
          title="Typical figures"
          keys={onWrite && <Key onPress={onWrite}>Write the can’s own</Key>}
        >
          Nobody has read these from the can yet. They are on the careful side; the can’s own sheet rules.
        </Notice>
      )}
      {sheetRemarks(sheet).map((remark) => (
        <Notice key={remark.kind} kind="person" title="Look at the can again">
          {remark.kind === "opened-outlasts-unopened"
            ? `Opened it is said to keep ${remark.shelfOpenedDays} days, unopened only ${remark.shelfUnopenedDays}.`
            : `${remark.spreadSquareMetresPerLitre} m² from a litre is thinner than ${remark.wetFilmMicrometres} µm wet.`}
        </Notice>
      ))}
      <p className="ladder-air">
        At {celsius(sheet.referenceCelsius)}, {humidity(sheet.referenceHumidityPercent)}. Colder takes longer.
      </p>
      <TimeLadder rungs={rungsOf(sheet, product.family, typical)} />
      <div className="sheet-parts">
        {partsOf(sheet, product.family, typical).map((part) => (
          <section key={part.id} className="sheet-part">
            <h3>{part.words}</h3>
            <dl>
              {part.lines.map((line) => (
                <div key={line.id}>
                  <dt>{line.words}</dt>
                  <dd>
                    <b>{line.figure}</b> <SourceMark source={line.source} />
                  </dd>
                </div>
              ))}
            </dl>
          </section>
        ))}
      </div>
    </>
  );
}

const coats = (count: number, what: string) => `${count} ${what}`;

function Uses({ facts, productId }: { facts: Facts; productId: string }) {
  const uses = usesOf(facts, productId);
  return (
    <section className="sheet-part" aria-label="Where it is used">
      <h3>On the floor</h3>
      {uses.length === 0 && <p className="why">On no piece that is here now.</p>}
      {/* biome-ignore lint/a11y/noRedundantRoles: Safari drops the role from lists styled without bullets */}
      <ul className="shelf-uses" role="list">
        {uses.map(({ pieceId, number, name, planned, laid }) => (
          <li key={pieceId}>
            <Tag number={number} href={`/piece?id=${pieceId}`} />
            <span>
              {name}
              <small>
                {[laid > 0 && coats(laid, "on it"), planned > 0 && coats(planned, "planned")]
                  .filter(Boolean)
                  .join(" · ")}
              </small>
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}
