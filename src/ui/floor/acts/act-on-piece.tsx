"use client";
import dynamic from "next/dynamic";

/** Every act on a piece, fetched when it is first wanted: the board itself stays light. */
const sheetByAct = {
  move: dynamic(() => import("./move-sheet").then((module) => module.MoveSheet), { ssr: false }),
  coat: dynamic(() => import("./coat-sheet").then((module) => module.CoatSheet), { ssr: false }),
  test: dynamic(() => import("./test-sheet").then((module) => module.TestSheet), { ssr: false }),
  press: dynamic(() => import("./press-sheet").then((module) => module.PressSheet), { ssr: false }),
  stage: dynamic(() => import("./stage-sheet").then((module) => module.StageSheet), { ssr: false }),
  promise: dynamic(() => import("./promise-sheet").then((module) => module.PromiseSheet), { ssr: false }),
  task: dynamic(() => import("./task-sheet").then((module) => module.TaskSheet), { ssr: false }),
};

export type PieceAct = keyof typeof sheetByAct;

export function ActOnPiece({ act, pieceId, onClose }: { act: PieceAct; pieceId: string; onClose: () => void }) {
  const SheetOfAct = sheetByAct[act];
  return <SheetOfAct pieceId={pieceId} onClose={onClose} />;
}

export const AddPiece = dynamic(() => import("./add-piece-sheet").then((module) => module.AddPieceSheet), {
  ssr: false,
});
