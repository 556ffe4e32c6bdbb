"use client";
import { useState } from "react";
import { cautionsFor } from "~/core/safety/cautions";
import type { Surface } from "~/core/shop/tables";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { coatProducts } from "~/ui/floor/acts/coat-choices";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { familyWords } from "~/ui/trade-words";
import { coatLines } from "./build-view";
import { Cautions } from "./cautions";
import { figureOrNothing } from "./field-edits";
import { familyOfSheet } from "./piece-cautions";

type ScheduleSheetProps = { pieceId: string; surface: Surface; onClose: () => void };

/** The coats of one surface: another is planned on top, or a planned one is struck. */
export function ScheduleSheet({ pieceId, surface, onClose }: ScheduleSheetProps) {
  const { facts, now, zone, newId, head, send } = usePieceAct(pieceId);
  const [sheetId, setSheetId] = useState<string>();
  const [wetFilmMicrometres, setWetFilm] = useState(Number.NaN);
  const [isPressed, setPressed] = useState(false);
  const lines = coatLines(facts, undefined, surface, now, zone);
  const planned = lines.filter(({ standing }) => standing === "planned");
  const family = familyOfSheet(facts, sheetId);
  const under = familyOfSheet(facts, lines.find(({ standing }) => standing !== "gone")?.coat.sheetId);

  const plan = async () => {
    setPressed(true);
    if (!sheetId) return;
    const position = 1 + Math.max(0, ...lines.map(({ coat }) => coat.position));
    const plannedWetFilmMicrometres = figureOrNothing(wetFilmMicrometres);
    const add = [
      {
        coatId: newId(),
        position,
        sheetId,
        ...(plannedWetFilmMicrometres !== undefined && { plannedWetFilmMicrometres }),
      },
    ];
    if (!(await send("change-schedule", { surfaceId: surface.id, add }, { said: `Coat ${position} is planned.` })))
      return;
    setPressed(false);
  };
  const strike = (coatId: string) =>
    send("change-schedule", { surfaceId: surface.id, strike: [coatId] }, { said: "Struck." });

  return (
    <ActSheet title={`Coats of ${surface.name}`} {...head} onClose={onClose}>
      <ul className="ruled-lines">
        {planned.map((line) => (
          <li key={line.coat.id}>
            <p>
              <b>
                {line.number} · {line.product}
              </b>
              {line.wetFilm && <small> · {line.wetFilm} wet</small>}
            </p>
            <Key kind="take-back" onPress={() => void strike(line.coat.id)} aria-label={`Strike coat ${line.number}`}>
              Strike it
            </Key>
          </li>
        ))}
      </ul>
      {planned.length === 0 && <p className="why">Nothing is planned on it.</p>}
      <ChoiceField
        label="Another coat on top"
        glove
        choices={coatProducts(facts).map(({ sheetId: id, words }) => ({ id, words }))}
        chosen={sheetId ?? null}
        onChoose={setSheetId}
        error={isPressed && !sheetId ? "Choose the product." : undefined}
      />
      {family && under && family !== under && (
        <p className="why">
          {familyWords[family]} over {familyWords[under]}: the can’s sheet says whether, after how long, and what
          between.
        </p>
      )}
      <NumberField
        label="Wet film, if it is set"
        glove
        unit="µm"
        minValue={1}
        maxValue={3000}
        value={wetFilmMicrometres}
        onChange={setWetFilm}
      />
      {family && <Cautions cautions={cautionsFor({ methods: [], families: [family], leadState: "not-painted" })} />}
      <Key kind="main" glove wide onPress={() => void plan()}>
        Plan this coat
      </Key>
    </ActSheet>
  );
}
