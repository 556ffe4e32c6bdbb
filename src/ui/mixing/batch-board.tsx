"use client";
import type { InstantMs } from "~/core/units";
import { moment } from "../format";
import { Board } from "../kit/board";
import { Key, Keys } from "../kit/key";
import { Notice } from "../kit/notice";
import { Picks } from "../kit/picks";
import { Tag } from "../kit/tag";
import { Cautions } from "../piece/cautions";
import { familyWords, listed } from "../trade-words";
import { area, percent, volume } from "./amount-words";
import {
  dryWords,
  genericWords,
  mistWords,
  potLifeWords,
  poured,
  shelfWords,
  strainerWords,
  workedLines,
} from "./batch-words";
import { CupLoadsDrawn } from "./cup-loads-drawn";
import { type GunSetup, isSprayed } from "./gun-setup";
import type { MixingAct } from "./mixing-sheets";
import type { BatchShown, ProductChoice } from "./mixing-view";
import { ThinnerField } from "./thinner-field";

type BatchBoardProps = {
  shown: BatchShown;
  gun: GunSetup;
  now: InstantMs;
  zone: string;
  isHand: boolean;
  choose: (choice: ProductChoice) => void;
  open: (act: MixingAct) => void;
};

/** One product of the session: how much, out of what, how long it stays good, and onto which pieces in turn. */
export function BatchBoard({ shown, gun, now, zone, isHand, choose, open }: BatchBoardProps) {
  const { product, mix, sheet } = shown;
  const isKnown = mix.millilitres > 0;
  const pours = poured(shown);
  return (
    <Board title={product.name} aside={<span className="mixing-family">{familyWords[product.family]}</span>}>
      {shown.unknownFaces.length > 0 && (
        <Notice kind="person" title={`No film known: ${listed(shown.unknownFaces)}`}>
          Neither the coat nor the product’s sheet says how thick it goes on, or how far a litre goes. Write one of them
          down and it is counted here.
        </Notice>
      )}
      {shown.live.map(({ mix: live, usableFromAt, usableUntilAt }) => (
        <Notice key={live.id} title={`Mixed ${moment(live.mixedAt, now, zone)}: ${volume(live.millilitres)}`}>
          {usableFromAt > now && `Let it stand until ${moment(usableFromAt, now, zone)}. `}
          {usableUntilAt === undefined ? "Use it first." : `Good until ${moment(usableUntilAt, now, zone)}.`}
        </Notice>
      ))}
      {isKnown && (
        <>
          <div className="mix-sum">
            <p className="mix-figure">
              <span>Mix </span>
              <b>{volume(mix.millilitres)}</b>
            </p>
            <dl className="mix-worked">
              {workedLines(shown).map(({ words, result }) => (
                <div key={words}>
                  <dt>{words}</dt>
                  <dd>{result}</dd>
                </div>
              ))}
            </dl>
            {!shown.isByHand && <CupLoadsDrawn cups={mix.cups} cupMillilitres={gun.cupMillilitres} />}
          </div>
          {pours.length > 1 && (
            <ul className="mix-pours" aria-label="Pour">
              {pours.map(({ words, millilitres }) => (
                <li key={words}>
                  <span>{words} </span>
                  <b>{volume(millilitres)}</b>
                </li>
              ))}
            </ul>
          )}
          <div className="mix-choices">
            {isSprayed(gun.method) && (
              <Picks
                label="Laid"
                picks={[
                  { id: "gun", words: "With the gun" },
                  { id: "hand", words: "By hand" },
                ]}
                chosen={shown.isByHand ? "hand" : "gun"}
                onChoose={(how) => choose({ isByHand: how === "hand" })}
              />
            )}
            <ThinnerField shown={shown} onChange={(thinning) => choose({ thinning })} />
          </div>
          {mix.overThinned && (
            <Notice kind="person" title={`More ${shown.thinnerName} than the sheet allows`}>
              {percent(mix.overThinned.percent)} of the paint; its limit is {percent(mix.overThinned.limitPercent)}. The
              label wins.
            </Notice>
          )}
          <MixFacts shown={shown} />
          {shown.isGeneric && <p className="why">{genericWords(shown)}</p>}
        </>
      )}
      <ol className="mix-turns" aria-label="Pieces in their turn">
        {shown.turns.map((turn) => (
          <li key={turn.pieceId}>
            <Tag number={turn.tag} href={`/piece?id=${turn.pieceId}`} />
            <span>{turn.faces.join("; ")}</span>
            <b>
              {area(turn.squareMetres)} · {volume(turn.millilitres)}
            </b>
          </li>
        ))}
      </ol>
      <Cautions cautions={shown.cautions} air={shown.air} />
      {isHand && isKnown && (
        <Keys>
          <Key kind="main" glove onPress={() => open({ act: "mix", shown })}>
            Log this mix
          </Key>
          {sheet.hardenerPartsPerMille !== undefined && (
            <Key glove onPress={() => open({ act: "pour", perMille: sheet.hardenerPartsPerMille as number })}>
              Poured too much?
            </Key>
          )}
        </Keys>
      )}
    </Board>
  );
}

function MixFacts({ shown }: { shown: BatchShown }) {
  const shelf = shelfWords(shown);
  const lines = [
    { name: "Dries to", words: dryWords(shown) },
    { name: "Strainer", words: strainerWords(shown) },
    { name: "Pot life", words: potLifeWords(shown) },
    { name: "Mist", words: mistWords(shown) },
    {
      name: "Vapour",
      words:
        shown.mix.volatileGramsPerLitre === undefined
          ? undefined
          : `${Math.round(shown.mix.volatileGramsPerLitre)} g of volatile compounds a litre as mixed`,
    },
  ].filter(({ words }) => words !== undefined);
  return (
    <dl className="facts">
      {lines.map(({ name, words }) => (
        <div key={name}>
          <dt>{name}</dt>
          <dd>{words}</dd>
        </div>
      ))}
      <div className="mix-shelf" data-short={shelf.isShort || undefined}>
        <dt>Shelf</dt>
        <dd>{shelf.words}</dd>
      </div>
    </dl>
  );
}
