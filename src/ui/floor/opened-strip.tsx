"use client";
import { Hand } from "lucide-react";
import { useMemo, useState } from "react";
import type { Facts } from "~/core/shop/facts";
import { partners } from "~/core/shop/roles";
import type { InstantMs } from "~/core/units";
import { usePresence } from "~/device/react";
import { FilmRow } from "~/ui/kit/film-row";
import { GateSentence } from "~/ui/kit/gate-sentence";
import { Key, Keys } from "~/ui/kit/key";
import { MayI } from "~/ui/kit/may-i";
import { PromiseFlag } from "~/ui/kit/promise-flag";
import { useAct } from "~/ui/shell/act";
import { useMe } from "~/ui/shell/session-context";
import { ActOnPiece, type PieceAct } from "./acts/act-on-piece";
import { openedView } from "./opened-view";
import type { Outlook } from "./outlook";
import { pictureHere } from "./picture-here";
import { PieceTasks } from "./piece-tasks";

export type OpenedStripProps = { outlook: Outlook; facts: Facts; now: InstantMs; zone: string };

/** What opens under a strip: cure by surface, the sentence, "May I?", who and what, and the keys. */
export function OpenedStrip({ outlook, facts, now, zone }: OpenedStripProps) {
  const { piece, wipe, promise } = outlook;
  const act = useAct();
  const me = useMe();
  const [open, setOpen] = useState<PieceAct>();
  // what is asked here rests on the air of every room, also of those in which the piece never stood
  const view = useMemo(
    () => openedView({ ...outlook, picture: pictureHere(facts, piece.id) }, now, zone),
    [outlook, facts, piece.id, now, zone],
  );
  usePresence(piece.id);
  const mayPromise = me.role !== undefined && (partners as readonly string[]).includes(me.role) && !me.isOnTablet;

  return (
    <>
      <section aria-label="Cure, by surface">
        {view && view.films.length > 0 ? (
          <>
            <h3>Cure, by surface</h3>
            {view.films.map((film) => (
              <FilmRow key={film.surface} {...film} />
            ))}
            {view.sentence && <GateSentence {...view.sentence} />}
            {view.why.length > 0 && <p className="why">{view.why.join(" ")}</p>}
          </>
        ) : (
          <p>
            {view ? "No film lies on it: nothing to wait for." : "This device does not carry enough of the air to say."}
          </p>
        )}
      </section>
      {view && view.mayI.length > 0 && <MayI gates={view.mayI} />}
      <section aria-label="Who and what">
        <h3>Who and what</h3>
        <PieceTasks outlook={outlook} facts={facts} now={now} zone={zone} />
        {outlook.tasks.length === 0 && <p className="why">No work is open on it.</p>}
        {promise && <PromiseFlag text={promise.text} atRisk={promise.isAtRisk} />}
        <Keys>
          {wipe && (
            <Key
              kind="stop"
              onPress={() =>
                void act(
                  "log-wiped",
                  { coatId: wipe.coatId },
                  { tag: piece.number, name: piece.name, said: "Wiped back." },
                )
              }
            >
              Wiped back
            </Key>
          )}
          <Key kind="main" icon={<Hand aria-hidden="true" size={22} />} onPress={() => setOpen("move")}>
            Move it
          </Key>
          <Key onPress={() => setOpen("test")}>Record a test</Key>
          <Key onPress={() => setOpen("coat")}>Log a coat</Key>
          <Key onPress={() => setOpen("press")}>Press together or apart</Key>
          <Key onPress={() => setOpen("stage")}>Move the stage</Key>
          <Key onPress={() => setOpen("task")}>Add work</Key>
          {mayPromise && <Key onPress={() => setOpen("promise")}>Promise</Key>}
          <Key kind="quiet" href={`/piece?id=${piece.id}`}>
            Open the piece sheet
          </Key>
        </Keys>
        {open && <ActOnPiece act={open} pieceId={piece.id} onClose={() => setOpen(undefined)} />}
      </section>
    </>
  );
}
