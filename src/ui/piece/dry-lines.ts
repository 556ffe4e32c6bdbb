import type { Picture } from "~/core/cure/picture";
import { woodDryness } from "~/core/cure/washed-wood";
import type { InstantMs } from "~/core/units";
import { moment } from "~/ui/format";

export type DryLine = { surfaceId: string; words: string; detail: string; isDry: boolean };

/** Bare surfaces that were wet: dry or not yet, since when or when, and what a meter says to it. */
export const dryLines = (picture: Picture, now: InstantMs, zone: string): DryLine[] =>
  picture.surfaces.flatMap((surface): DryLine[] => {
    const found = woodDryness(picture, surface, now);
    if (!found) return [];
    const { isDry, lastWaterAt, meterPercent, equilibriumPercent, safeAt, likelyAt } = found;
    const safe = safeAt !== undefined && moment(safeAt, now, zone);
    const likely = likelyAt !== undefined && likelyAt > now && likelyAt !== safeAt && moment(likelyAt, now, zone);
    const waits = safe ? `dry from ${safe}` : "wet: measure it again";
    return [
      {
        surfaceId: surface.id,
        isDry,
        words: `${surface.name}: ${isDry ? "dry enough to coat" : waits}`,
        detail: [
          `wet until ${moment(lastWaterAt, now, zone)}`,
          !isDry && likely && `likely ${likely}`,
          meterPercent !== undefined && `meter ${meterPercent} %`,
          equilibriumPercent !== undefined && `the room makes it ${equilibriumPercent.toFixed(1)} %`,
        ]
          .filter(Boolean)
          .join(" · "),
      },
    ];
  });
