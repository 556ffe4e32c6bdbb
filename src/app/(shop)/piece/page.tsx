import { Suspense } from "react";
import { BareBoards } from "~/ui/kit/bare-boards";
import { PieceScreen } from "~/ui/piece/piece-screen";

export default function PiecePage() {
  return (
    <Suspense fallback={<BareBoards count={3} />}>
      <PieceScreen />
    </Suspense>
  );
}
