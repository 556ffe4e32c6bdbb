"use client";
import { useQuery } from "@tanstack/react-query";
import { shownMinutes, shownTotal } from "~/core/labour/shown-minutes";
import { stages } from "~/core/shop/entities/pieces";
import { useApi } from "~/ui/api";
import { hoursAndMinutes } from "~/ui/format";
import { HoursBar } from "~/ui/kit/hours-bar";
import { PiecePart } from "./piece-part";

/** All work since it came, by stage and without names. Ended hours never rest on a device, so it needs signal. */
export function HoursPart({ pieceId }: { pieceId: string }) {
  const api = useApi();
  const { data, isError, fetchStatus } = useQuery(api.piece.hours.queryOptions({ pieceId }));
  const isApart = !data && (isError || fetchStatus === "paused");
  const worked = data ? stages.flatMap((stage) => data.stages.filter((part) => part.stage === stage)) : [];
  const minutes = shownMinutes(worked.map(({ seconds }) => seconds));
  return (
    <PiecePart title="Hours">
      {isApart && <p>Hours need signal: they do not rest on this device.</p>}
      {!isApart && !data && <p role="status">Looking.</p>}
      {data && worked.length === 0 && <p className="why">Nobody has worked on it yet.</p>}
      {data && worked.length > 0 && (
        <HoursBar
          label="Hours by stage"
          rows={[
            {
              id: pieceId,
              words: "All work",
              parts: worked.map(({ stage }, index) => {
                const shown = minutes[index] ?? 0;
                return { stage, minutes: shown, hours: hoursAndMinutes(shown) };
              }),
              total: hoursAndMinutes(shownTotal(data.seconds)),
            },
          ]}
        />
      )}
    </PiecePart>
  );
}
