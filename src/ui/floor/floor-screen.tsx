"use client";
import { Plus } from "lucide-react";
import { useMemo, useState } from "react";
import type { Member } from "~/core/shop/tables";
import { usePending, usePresence } from "~/device/react";
import { BareBoards } from "~/ui/kit/bare-boards";
import { EmptyBoard } from "~/ui/kit/empty-board";
import { Key } from "~/ui/kit/key";
import { Picks } from "~/ui/kit/picks";
import { Sieve } from "~/ui/kit/sieve";
import { SpanHead } from "~/ui/kit/span-head";
import { StripList } from "~/ui/kit/strip-list";
import { useMe } from "~/ui/shell/session-context";
import { AddPiece } from "./acts/act-on-piece";
import "./floor.css";
import { type SieveId, sieved, sieveWords } from "./floor-sieve";
import { pendingPieces } from "./pending-pieces";
import { PieceStrip } from "./piece-strip";
import { roomAirs } from "./room-air";
import { TopLine } from "./top-line";
import { useIsWide } from "./use-is-wide";
import { useOutlooks, useSteadyOrder } from "./use-outlooks";

const everyBoard = "every board";
const nobody: readonly Member[] = [];

/** The shop's board: one strip a piece, and above it what wants a person. */
export function FloorScreen() {
  const { facts, now, zone, outlooks: all, isHere } = useOutlooks();
  const isWide = useIsWide();
  const me = useMe();
  const { waiting, verdictByIntentId } = usePending();
  const presence = usePresence();
  const [sieve, setSieve] = useState<SieveId>("everything");
  const [boardId, setBoardId] = useState(everyBoard);
  const [openTag, setOpenTag] = useState<string | null>(null);
  const [isAdding, setAdding] = useState(false);
  const boards = facts.all("board").filter((board) => board.closedOn === undefined);

  const ordered = useSteadyOrder(all, now, isWide);
  const outlooks = useMemo(
    () => ordered.filter(({ piece }) => boardId === everyBoard || piece.boardId === boardId),
    [ordered, boardId],
  );
  const tapes = useMemo(() => pendingPieces(waiting, verdictByIntentId, zone), [waiting, verdictByIntentId, zone]);
  const lookingByPieceId = useMemo(() => {
    const byId = new Map<string, Member[]>();
    for (const { memberId, lookingAt } of presence) {
      const member = facts.get("member", memberId);
      const known = lookingAt === undefined ? [] : (byId.get(lookingAt) ?? []);
      if (lookingAt === undefined || !member || memberId === me.memberId || known.includes(member)) continue;
      byId.set(lookingAt, [...known, member]);
    }
    return byId;
  }, [presence, facts, me.memberId]);

  if (!isHere) return <BareBoards count={5} />;
  const groups = sieved(outlooks, sieve, { facts, memberId: me.memberId, now });
  const shown = groups.reduce((sum, group) => sum + group.outlooks.length, 0);
  return (
    <div className="floor">
      <div className="floor-head">
        <Sieve label="Show" words={sieveWords(outlooks, now, isWide)} chosen={sieve} onChoose={setSieve} />
        <TopLine outlooks={outlooks} airs={roomAirs(facts, now, zone)} />
      </div>
      {boards.length > 1 && (
        <Picks
          label="Board"
          chosen={boardId}
          onChoose={setBoardId}
          picks={[{ id: everyBoard, words: "Every board" }, ...boards.map(({ id, name }) => ({ id, words: name }))]}
        />
      )}
      {groups.map((group) => (
        <section key={group.id} aria-label={group.heading ?? "Pieces"}>
          {group.heading !== undefined && <SpanHead words={group.heading} />}
          <StripList label={group.heading ?? "Pieces"} openTag={openTag} onOpenChange={setOpenTag}>
            {group.outlooks.map((outlook) => (
              <PieceStrip
                key={outlook.piece.id}
                outlook={outlook}
                facts={facts}
                now={now}
                zone={zone}
                looking={lookingByPieceId.get(outlook.piece.id) ?? nobody}
                pending={tapes.get(outlook.piece.id)}
              />
            ))}
          </StripList>
        </section>
      ))}
      {shown === 0 && <NothingHere sieve={sieve} onAdd={() => setAdding(true)} />}
      {shown > 0 && (
        <div className="floor-foot">
          <Key icon={<Plus aria-hidden="true" size={22} />} onPress={() => setAdding(true)}>
            Add a piece
          </Key>
        </div>
      )}
      {isAdding && <AddPiece boardId={boardId === everyBoard ? undefined : boardId} onClose={() => setAdding(false)} />}
    </div>
  );
}

function NothingHere({ sieve, onAdd }: { sieve: SieveId; onAdd: () => void }) {
  if (sieve === "mine")
    return (
      <EmptyBoard
        title="Nothing is yours just now."
        sentence="Open a strip and take what is free, or start a timer on it."
      />
    );
  if (sieve === "next-hour")
    return (
      <EmptyBoard
        title="Nothing opens within the hour."
        sentence="Everything on the floor needs longer, or no hand at all."
      />
    );
  return (
    <EmptyBoard title="No piece hangs here yet." sentence="Tie a tag to the first one: a name is enough.">
      <Key kind="main" onPress={onAdd}>
        Add a piece
      </Key>
    </EmptyBoard>
  );
}
