"use client";
import { useMemo, useState } from "react";
import type { InstantMs } from "~/core/units";
import { openedView } from "~/ui/floor/opened-view";
import type { Outlook } from "~/ui/floor/outlook";
import { FilmRow } from "~/ui/kit/film-row";
import { GateSentence } from "~/ui/kit/gate-sentence";
import { Key, Keys } from "~/ui/kit/key";
import { MayI } from "~/ui/kit/may-i";
import { CureCurve } from "./cure-curve";
import { surfaceCurves } from "./cure-curve-view";
import { PiecePart } from "./piece-part";

type CurePartProps = { outlook: Outlook; now: InstantMs; zone: string; onTest: () => void; onMove: () => void };

/** The films, the sentence and every act: what the floor's opened strip says, with room for it. */
export function CurePart({ outlook, now, zone, onTest, onMove }: CurePartProps) {
  const view = useMemo(() => openedView(outlook, now, zone), [outlook, now, zone]);
  return (
    <>
      <PiecePart title="Cure, by surface">
        {view?.films.map((film) => (
          <FilmRow key={film.surface} {...film} />
        ))}
        {view?.sentence && <GateSentence {...view.sentence} />}
        {view && view.why.length > 0 && <p className="why">{view.why.join(" ")}</p>}
        {view && view.films.length > 0 && <Why outlook={outlook} now={now} zone={zone} />}
        {view?.films.length === 0 && <p>No film lies on it: nothing to wait for.</p>}
        {!view && <p>This device does not carry enough of the air to say.</p>}
        <Keys>
          <Key onPress={onTest}>Record a test</Key>
          <Key onPress={onMove}>Move it</Key>
        </Keys>
      </PiecePart>
      {view && view.mayI.length > 0 && (
        <div className="piece-part">
          <MayI gates={view.mayI} />
        </div>
      )}
    </>
  );
}

/** Each film's whole course, for whoever asks why its time is what it is; worked out only once it is opened. */
function Why({ outlook, now, zone }: Pick<CurePartProps, "outlook" | "now" | "zone">) {
  const [isOpen, setOpen] = useState(false);
  const curves = useMemo(() => (isOpen ? surfaceCurves(outlook, now, zone) : []), [isOpen, outlook, now, zone]);
  return (
    <details className="cure-why" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>Why?</summary>
      {curves.map(({ surface, view }) => (
        <CureCurve key={surface} surface={surface} view={view} />
      ))}
      {isOpen && curves.length === 0 && <p>Nothing here waits for hours to pass.</p>}
    </details>
  );
}
