"use client";
import { useMemo, useState } from "react";
import type { Finding, Mend } from "~/core/coating/schedule-findings";
import { cautionsFor } from "~/core/safety/cautions";
import type { Coat, Surface } from "~/core/shop/tables";
import { ActSheet } from "~/ui/floor/acts/act-sheet";
import { coatProducts } from "~/ui/floor/acts/coat-choices";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { ChoiceField } from "~/ui/kit/choice-field";
import { Key } from "~/ui/kit/key";
import { NumberField } from "~/ui/kit/number-field";
import { useNames } from "~/ui/shell/names";
import { coatLines } from "./build-view";
import { Cautions } from "./cautions";
import { figureOrNothing } from "./field-edits";
import { FindingsList } from "./findings-list";
import { mendAct } from "./mend-act";
import { familyOfSheet } from "./piece-cautions";
import { checkedSchedule, reckonedWith, totalWords } from "./schedule-findings";

type ScheduleSheetProps = { pieceId: string; surface: Surface; onClose: () => void };

/** The coat that somebody is only thinking of, until it is planned. */
const thoughtId = "thought";

/** The coats of one surface: another is planned on top, or a planned one is struck; all of it checked as it stands. */
export function ScheduleSheet({ pieceId, surface, onClose }: ScheduleSheetProps) {
  const { facts, now, zone, newId, head, send } = usePieceAct(pieceId);
  const names = useNames();
  const [sheetId, setSheetId] = useState<string>();
  const [wetFilmMicrometres, setWetFilm] = useState(Number.NaN);
  const [isPressed, setPressed] = useState(false);
  const lines = coatLines(facts, undefined, surface, now, zone);
  const planned = lines.filter(({ standing }) => standing === "planned");
  const family = familyOfSheet(facts, sheetId);
  const position = 1 + Math.max(0, ...lines.map(({ coat }) => coat.position));
  const plannedWetFilmMicrometres = figureOrNothing(wetFilmMicrometres);
  const wet = plannedWetFilmMicrometres !== undefined && { plannedWetFilmMicrometres };
  const thought: Coat | undefined = useMemo(
    () =>
      sheetId === undefined
        ? undefined
        : {
            id: thoughtId,
            pieceId,
            surfaceId: surface.id,
            position,
            sheetId,
            state: "planned",
            ...(plannedWetFilmMicrometres !== undefined && { plannedWetFilmMicrometres }),
          },
    [sheetId, pieceId, surface.id, position, plannedWetFilmMicrometres],
  );
  const checked = useMemo(() => checkedSchedule(facts, surface, thought), [facts, surface, thought]);

  const plan = async () => {
    setPressed(true);
    if (!sheetId) return;
    const add = [{ coatId: newId(), position, sheetId, ...wet }];
    if (!(await send("change-schedule", { surfaceId: surface.id, add }, { said: `Coat ${position} is planned.` })))
      return;
    setPressed(false);
    setSheetId(undefined);
    setWetFilm(Number.NaN);
  };
  const strike = (coatId: string) =>
    send("change-schedule", { surfaceId: surface.id, strike: [coatId] }, { said: "Struck." });
  const keyOf = (finding: Finding, mend: Mend) => {
    // a mend of a coat that is not planned yet is to plan another
    const act = finding.coatIds.includes(thoughtId) ? undefined : mendAct(facts, surface, finding, mend, newId);
    return (
      act && (
        <Key key={act.words} onPress={() => void send(act.kind, act.body, { said: act.said })}>
          {act.words}
        </Key>
      )
    );
  };

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
              {line.coat.barrierWhy && <small> · barrier: {line.coat.barrierWhy}</small>}
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
      <NumberField
        label="Wet film, if it is set"
        glove
        unit="µm"
        minValue={1}
        maxValue={3000}
        value={wetFilmMicrometres}
        onChange={setWetFilm}
      />
      {checked && (
        <div role="status" className="schedule-check">
          <Sums totals={checked.totals} />
          <FindingsList findings={checked.findings} names={names} keyOf={keyOf} />
          {checked.findings.length === 0 && lines.length + (thought ? 1 : 0) > 0 && (
            <p className="why">The check found nothing in the way. The cans’ own sheets outrank it.</p>
          )}
        </div>
      )}
      {family && <Cautions cautions={cautionsFor({ methods: [], families: [family], leadState: "not-painted" })} />}
      <Key kind="main" glove wide onPress={() => void plan()}>
        Plan this coat
      </Key>
    </ActSheet>
  );
}

function Sums({ totals }: { totals: Parameters<typeof totalWords>[0] }) {
  const { film, use, without } = totalWords(totals);
  if (!film && !use) return null;
  return (
    <p className="schedule-sums">
      {film && <b>{film}</b>}
      {use && (
        <span>
          <b>{use}</b>, {reckonedWith.words} {reckonedWith.transferPercent} %
        </span>
      )}
      {without && <small>{without}</small>}
    </p>
  );
}
