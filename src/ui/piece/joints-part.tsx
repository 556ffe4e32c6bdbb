"use client";
import dynamic from "next/dynamic";
import { useMemo, useState } from "react";
import type { Picture } from "~/core/cure/picture";
import type { Joint, Piece } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { GateSaidNo } from "~/ui/floor/acts/gate-said-no";
import { usePieceAct } from "~/ui/floor/acts/piece-act";
import { Key, Keys } from "~/ui/kit/key";
import { jointLines } from "./joint-view";
import { PiecePart } from "./piece-part";

const JointSheet = dynamic(() => import("./joint-sheet").then((module) => module.JointSheet), { ssr: false });
const TestSheet = dynamic(() => import("~/ui/floor/acts/test-sheet").then((module) => module.TestSheet), {
  ssr: false,
});

type JointsPartProps = { picture?: Picture; piece: Piece; mayWork: boolean; now: InstantMs; zone: string };

type Opened = { sheet: "glue"; again?: Joint } | { sheet: "test"; joint: Joint };

/** What is glued: until when it stays in its clamps, when it carries everything, and what the cold did to it. */
export function JointsPart({ picture, piece, mayWork, now, zone }: JointsPartProps) {
  const [opened, setOpened] = useState<Opened>();
  const { send } = usePieceAct(piece.id);
  const lines = useMemo(() => (picture ? jointLines(picture, now, zone) : []), [picture, now, zone]);
  if (!picture || (lines.length === 0 && !mayWork)) return null;

  const release = async (joint: Joint, stance: "asking" | "done"): Promise<void> => {
    await send(
      "release-joint",
      { jointId: joint.id, stance },
      {
        said: `${joint.name}: the clamps are off.`,
        instead: (refusal, close) => (
          <GateSaidNo refusal={refusal} close={close} onDone={() => void release(joint, "done")} />
        ),
      },
    );
  };

  return (
    <PiecePart title="Joints">
      <ul className="ruled-lines">
        {lines.map(({ joint, name, state, isBarred, details, ...may }) => (
          <li key={joint.id} className={may.mayRelease ? "joint-in-clamps" : undefined}>
            <p>
              <b>{name}</b>
              {": "}
              <span className={isBarred ? "joint-barred" : undefined}>{state}</span>
              <br />
              <small>{details.join(" · ")}</small>
            </p>
            {mayWork && may.mayRelease && (
              <Key aria-label={`Clamps are off: ${name}`} onPress={() => void release(joint, "asking")}>
                Clamps are off
              </Key>
            )}
            {mayWork && may.mayTest && (
              <Key
                kind={isBarred ? "main" : "quiet"}
                aria-label={`Test ${name}`}
                onPress={() => setOpened({ sheet: "test", joint })}
              >
                Test it
              </Key>
            )}
            {mayWork && may.mayGlueAgain && (
              <Key kind="main" onPress={() => setOpened({ sheet: "glue", again: joint })}>
                Glue it again
              </Key>
            )}
          </li>
        ))}
      </ul>
      {mayWork && (
        <Keys>
          <Key onPress={() => setOpened({ sheet: "glue" })}>Log a joint</Key>
        </Keys>
      )}
      {opened?.sheet === "glue" && (
        <JointSheet pieceId={piece.id} again={opened.again} onClose={() => setOpened(undefined)} />
      )}
      {opened?.sheet === "test" && (
        <TestSheet
          pieceId={piece.id}
          firstKind="pull-or-tap"
          jointId={opened.joint.id}
          onClose={() => setOpened(undefined)}
        />
      )}
    </PiecePart>
  );
}
