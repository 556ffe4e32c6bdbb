"use client";
/** The traveller that follows a piece: what it is, what lies on it, who works on it, what was promised, and its past. */
import { useSearchParams } from "next/navigation";
import { Fragment, type ReactNode, useMemo, useState } from "react";
import { floorHands, partners } from "~/core/shop/roles";
import type { Member } from "~/core/shop/tables";
import { useFloor, useNow, usePending, usePresence } from "~/device/react";
import { ActOnPiece, type PieceAct } from "~/ui/floor/acts/act-on-piece";
import { type Outlook, outlookOf } from "~/ui/floor/outlook";
import { pendingPieces } from "~/ui/floor/pending-pieces";
import { stripView } from "~/ui/floor/strip-view";
import { useIsWide } from "~/ui/floor/use-is-wide";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Film } from "~/ui/kit/film";
import { Key } from "~/ui/kit/key";
import { Notice } from "~/ui/kit/notice";
import { Sieve } from "~/ui/kit/sieve";
import { StripFace } from "~/ui/kit/strip-face";
import { useMe } from "~/ui/shell/session-context";
import { AboutPart } from "./about-part";
import { BuildPart } from "./build-part";
import { CurePart } from "./cure-part";
import { HoursPart } from "./hours-part";
import { JointsPart } from "./joints-part";
import { NotesPart } from "./notes-part";
import { PairsPart } from "./pairs-part";
import { PastPart } from "./past-part";
import { PromisesPart } from "./promises-part";
import { RoomsPart } from "./rooms-part";
import { TestsPart } from "./tests-part";
import { WordsPart } from "./words-part";
import { WorkPart } from "./work-part";
import "./piece.css";

const parts = [
  { id: "finish", words: "Finish" },
  { id: "work", words: "Work" },
  { id: "notes", words: "Notes" },
  { id: "past", words: "Past" },
  { id: "about", words: "About" },
] as const;
type Part = (typeof parts)[number]["id"];

export function PieceScreen() {
  const pieceId = useSearchParams().get("id") ?? "";
  const facts = useFloor((floor) => floor);
  const seq = useFloor((_, floor) => floor.seq);
  const now = useNow(60_000);
  const shop = facts.all("shop")[0];
  const piece = facts.get("piece", pieceId);
  const outlook = useMemo(
    () => (shop && piece ? outlookOf(facts, piece, shop, now) : undefined),
    [facts, piece, shop, now],
  );
  if (!shop || seq === 0) return <BareBoards count={3} />;
  if (!outlook)
    return (
      <EmptyBoard title="This piece is not on the floor." sentence="It has left, or the address is not whole.">
        <Key kind="main" href="/floor">
          To the floor
        </Key>
      </EmptyBoard>
    );
  return <Traveller key={pieceId} outlook={outlook} />;
}

function Traveller({ outlook }: { outlook: Outlook }) {
  const facts = useFloor((floor) => floor);
  const now = useNow(60_000);
  const isWide = useIsWide();
  const me = useMe();
  const [part, setPart] = useState<Part>("finish");
  const [act, setAct] = useState<PieceAct>();
  const { piece, picture, promise } = outlook;
  const lookers = usePresence(piece.id).filter(
    ({ lookingAt, memberId }) => lookingAt === piece.id && memberId !== me.memberId,
  );
  const beside = [...new Set(lookers.map(({ memberId }) => memberId))].flatMap((id) => facts.get("member", id) ?? []);
  const zone = facts.all("shop")[0]?.zone ?? "UTC";
  const has = (roles: readonly string[]) => me.role !== undefined && roles.includes(me.role);
  const mayPlan = has(partners) && !me.isOnTablet;
  const here = { facts, outlook, piece, picture, now, zone, mayPlan };

  const cure = <CurePart {...here} onTest={() => setAct("test")} onMove={() => setAct("move")} />;
  const build = (
    <>
      <BuildPart {...here} onLogCoat={() => setAct("coat")} />
      <PairsPart {...here} onPress={() => setAct("press")} />
      <JointsPart {...here} mayWork={has(floorHands)} />
    </>
  );
  const tests = (
    <>
      <WordsPart {...here} />
      <TestsPart {...here} memberId={me.memberId} mayWork={has(floorHands)} />
    </>
  );
  const work = <WorkPart {...here} onAdd={() => setAct("task")} onStage={() => setAct("stage")} />;
  const around = (
    <>
      <PromisesPart {...here} onPromise={() => setAct("promise")} />
      <HoursPart pieceId={piece.id} />
      <RoomsPart {...here} />
    </>
  );
  const notes = <NotesPart pieceId={piece.id} beside={beside} mayWrite={has(floorHands)} />;
  const past = <PastPart facts={facts} pieceId={piece.id} now={now} zone={zone} />;
  const about = <AboutPart {...here} />;
  // the same tree at every width: a tablet that is turned keeps its open sheet
  const columns: { part: Part; content: ReactNode }[][] = [
    [
      { part: "finish", content: cure },
      { part: "work", content: work },
      { part: "work", content: around },
    ],
    [
      { part: "finish", content: build },
      { part: "finish", content: tests },
    ],
    [
      { part: "about", content: about },
      { part: "notes", content: notes },
      { part: "past", content: past },
    ],
  ];
  return (
    <div className="piece">
      <Head outlook={outlook} beside={beside} />
      {promise?.isAtRisk && (
        <Notice
          kind="person"
          title={`Promise at risk: ${promise.text}`}
          keys={mayPlan && <Key onPress={() => setAct("promise")}>Move it and say why</Key>}
        />
      )}
      {!isWide && <Sieve label="Part of the traveller" words={[...parts]} chosen={part} onChoose={setPart} />}
      <div className="piece-columns">
        {columns.map((column, index) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: columns have no name but their place
          <div key={index} className="piece-column">
            {column.map((each, place) => (
              // biome-ignore lint/suspicious/noArrayIndexKey: as above
              <Fragment key={place}>{(isWide || each.part === part) && each.content}</Fragment>
            ))}
          </div>
        ))}
      </div>
      {act && <ActOnPiece act={act} pieceId={piece.id} onClose={() => setAct(undefined)} />}
    </div>
  );
}

/** The piece's own strip, as on the floor. */
function Head({ outlook, beside }: { outlook: Outlook; beside: readonly Member[] }) {
  const zone = useFloor((facts) => facts.all("shop")[0]?.zone ?? "UTC");
  const { waiting, verdictByIntentId } = usePending();
  const pending = pendingPieces(waiting, verdictByIntentId, zone).get(outlook.piece.id);
  const { film, run, href: _itself, ...face } = stripView(outlook, { zone, looking: beside, pending });
  return (
    <div className="strip-alone">
      <StripFace {...face} run={film ? { ...run, children: <Film {...film} /> } : run} />
    </div>
  );
}
