/** The check of a piece's schedules with what the device knows, and with a coat that somebody is only thinking of. */
import { checkSchedule } from "~/core/coating/schedule-check";
import type { Finding } from "~/core/coating/schedule-findings";
import { scheduleOf } from "~/core/coating/schedule-picture";
import { type ScheduleTotals, scheduleTotals } from "~/core/coating/schedule-totals";
import { transferByMethod } from "~/core/coating/spreading";
import type { Facts } from "~/core/shop/facts";
import type { Coat, Surface } from "~/core/shop/tables";
import { pictureHere } from "~/ui/floor/picture-here";

export type CheckedSchedule = { findings: Finding[]; totals: ScheduleTotals };

/** What most pieces here are laid with; the mixing sheet reckons exactly, with the gun in hand. */
export const reckonedWith = { words: "sprayed, HVLP", transferPercent: transferByMethod.hvlp.usual };

/**
 * @param thought a coat that is not planned yet, checked as if it were
 * @returns nothing when this device does not carry enough of the piece
 */
export function checkedSchedule(facts: Facts, surface: Surface, thought?: Coat): CheckedSchedule | undefined {
  const picture = pictureHere(facts, surface.pieceId);
  if (!picture) return undefined;
  const asked = thought ? { ...picture, coats: [...picture.coats, thought] } : picture;
  const schedule = scheduleOf(asked, surface, facts.where("task", "pieceId", surface.pieceId));
  return {
    findings: checkSchedule(schedule),
    totals: scheduleTotals(surface, schedule.layers, reckonedWith.transferPercent),
  };
}

/** "In all 108 µm dry", "1.2 L still to use": with what the sums had to leave out. */
export function totalWords({ dryMicrometres, litres, withoutFilm, withoutLitres }: ScheduleTotals) {
  const film = dryMicrometres > 0 ? `${Math.round(dryMicrometres)} µm dry in all` : undefined;
  const use =
    litres > 0
      ? `${litres < 0.995 ? `${Math.round(litres * 100) * 10} ml` : `${litres.toFixed(1)} L`} to use`
      : undefined;
  const left = new Set([...withoutFilm, ...withoutLitres]).size;
  const without =
    left > 0
      ? `${left === 1 ? "One coat is" : `${left} coats are`} not in it: the sheet does not say enough, or it is wiped off.`
      : undefined;
  return { film, use, without };
}
