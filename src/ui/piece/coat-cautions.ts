/** What to be careful about while coats are laid in a room, and the air that their solvent asks for. */
import { type Caution, cautionsFor } from "~/core/safety/cautions";
import { coatAirCubicMetresPerHour, dilutionCubicMetresPerLitre } from "~/core/safety/ventilation";
import type { Facts } from "~/core/shop/facts";
import type { Sheet } from "~/core/shop/tables";
import { type Solvent, smallestLimitPercent, solvents } from "~/core/tables/solvents";
import { familyOfSheet } from "./piece-cautions";

export type CoatAtHand = { sheetId: string; squareDecimetres: number; wetFilmMicrometres?: number };

export type CoatsAtHand = { coats: readonly CoatAtHand[]; minutes?: number; isSprayed?: boolean };

export const coatCautions = (facts: Facts, { coats, isSprayed }: CoatsAtHand): Caution[] =>
  cautionsFor({
    methods: [],
    families: coats.flatMap(({ sheetId }) => familyOfSheet(facts, sheetId) ?? []),
    leadState: "not-painted",
    isSprayed,
  });

/** One square decimetre of one micrometre is a hundredth of a millilitre. */
const millilitresOf = (coat: CoatAtHand, sheet: Sheet): number | undefined => {
  const film = coat.wetFilmMicrometres ?? sheet.wetFilmMicrometres;
  return film === undefined ? undefined : (coat.squareDecimetres * film) / 100;
};

const cubicFeetPerMinute = (cubicMetresPerHour: number) => (cubicMetresPerHour * 35.3147) / 60;

/** Two figures and no more: what is known of a room's air bears no third. */
const roughly = (value: number): number => Number(value.toPrecision(2));

/**
 * The fire minimum of air in one sentence, and what it is not. Nothing where a sheet names no solvent that we know.
 *
 * @param minutes how long the laying takes: the solvent is taken to leave in that time; until it is known, per litre
 */
export function airWords(facts: Facts, { coats, minutes }: CoatsAtHand): string | undefined {
  const named = coats.flatMap((coat) => {
    const sheet = facts.get("sheet", coat.sheetId);
    return sheet?.solvent ? [{ coat, sheet, solvent: solvents[sheet.solvent] }] : [];
  });
  if (named.length === 0) return undefined;
  const flow = minutes === undefined ? undefined : flowOf(named, minutes);
  if (flow !== undefined) {
    const figures = `${roughly(flow)} m³ an hour (${roughly(cubicFeetPerMinute(flow))} cubic feet a minute)`;
    return `Air out of the room: at the very least ${figures}. ${notForBreathing}`;
  }
  const perLitre = Math.max(
    ...named.map(({ solvent }) =>
      dilutionCubicMetresPerLitre({ ...solvent, lowerLimitPercent: smallestLimitPercent(solvent) }),
    ),
  );
  return `Air out of the room: at the very least ${roughly(perLitre)} m³ for every litre of solvent. ${notForBreathing}`;
}

const notForBreathing =
  "That keeps it under a quarter of what can burn (OSHA 1910.94; California asks for a fifth): a fire minimum, not a breathing limit, and no air makes a flame right.";

type Named = { coat: CoatAtHand; sheet: Sheet; solvent: Solvent };

function flowOf(named: readonly Named[], minutes: number): number | undefined {
  const flows = named.map(({ coat, sheet, solvent }) => {
    const millilitres = millilitresOf(coat, sheet);
    return millilitres === undefined
      ? undefined
      : coatAirCubicMetresPerHour({ millilitres, minutes }, { ...sheet, solvent });
  });
  // one coat of unknown size would make the sum too small
  return flows.reduce<number | undefined>(
    (sum, flow) => (sum === undefined || flow === undefined ? undefined : sum + flow),
    0,
  );
}
