import { Suspense } from "react";
import { BareBoards } from "~/ui/kit/bare-boards";
import { WeekScreen } from "~/ui/week/week-screen";

export default function WeekPage() {
  return (
    <Suspense fallback={<BareBoards count={4} />}>
      <WeekScreen />
    </Suspense>
  );
}
