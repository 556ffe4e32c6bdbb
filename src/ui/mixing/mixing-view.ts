/** The whole sheet for what is chosen: a part per product. Pure, so that a test can read it like a printed sheet. */
import { takenByCoat } from "~/core/coating/can-left";
import { genericSheet } from "~/core/coating/generic-sheets";
import { type MixToMake, mixToMake } from "~/core/coating/mixing-sheet";
import { potLifeInAir } from "~/core/coating/pot-life";
import { type SprayBatch, sprayBatches } from "~/core/coating/spray-session";
import { transferByMethod } from "~/core/coating/spreading";
import { type StrainerChoice, strainerFor } from "~/core/coating/strainer";
import { type Thinning, unthinned } from "~/core/coating/thinning";
import { solventGramsPerLitre } from "~/core/coating/volatile";
import { type Caution, cautionsFor } from "~/core/safety/cautions";
import type { Family } from "~/core/shop/entities/products";
import type { Facts } from "~/core/shop/facts";
import type { Product, Sheet } from "~/core/shop/tables";
import type { InstantMs } from "~/core/units";
import { lastReading } from "../floor/room-air";
import { airWords } from "../piece/coat-cautions";
import { type GunSetup, isSprayed } from "./gun-setup";
import type { PlannedCoat } from "./planned-coats";
import { type LiveMix, liveMixes } from "./pot-choices";
import { type CanShown, cansShown } from "./shelf-view";

export type TurnShown = {
  pieceId: string;
  tag: string;
  name: string;
  faces: string[];
  squareMetres: number;
  millilitres: number;
};

export type BatchShown = {
  sheet: Sheet;
  product: Product;
  batch: SprayBatch;
  mix: MixToMake;
  thinning: Thinning;
  /** By brush or cloth: no cup, no strainer, little goes past. */
  isByHand: boolean;
  transferPercent: number;
  thinnerName: string;
  strainer?: StrainerChoice;
  turns: TurnShown[];
  /** At the last reading of the room, where there is one. */
  potLife?: { minutes: number; celsius?: number };
  cans: CanShown[];
  shelf: { millilitres: number; neededMillilitres: number };
  live: LiveMix[];
  cautions: Caution[];
  /** The air that its solvent asks for. */
  air?: string;
  /** The film of some coat, or the solids, are the generic type's. */
  isGeneric: boolean;
  /** Surfaces for which neither film nor spread is known. */
  unknownFaces: string[];
};

/** How one product of the session is laid, where somebody said so. */
export type ProductChoice = { thinning?: Thinning; isByHand?: boolean };

/** Oil, oil wax, wax and stain are wiped or brushed, whatever gun hangs there. Common practice. */
const handFamilies: readonly Family[] = ["oil-varnish", "drying-oil", "oil-wax", "wax", "oil-stain"];

const isByHand = ({ sheet, product }: PlannedCoat, choice: ProductChoice | undefined, gun: GunSetup) =>
  !isSprayed(gun.method) ||
  (choice?.isByHand ?? (sheet.wipeFromMin !== undefined || handFamilies.includes(product.family)));

/** The sheet's own parts for the gun; a brush takes it as it is. */
const usualThinning = (sheet: Sheet, isHand: boolean): Thinning =>
  sheet.thinParts && !isHand
    ? { by: "parts", paint: sheet.thinParts.product, thinner: sheet.thinParts.thinner }
    : unthinned;

const transferOf = (isHand: boolean, gun: GunSetup) =>
  isHand && isSprayed(gun.method) ? transferByMethod.brush.usual : gun.transferPercent;

const thinnerGramsPerLitre = (sheet: Sheet) =>
  sheet.mechanism === "water-borne" ? 0 : solventGramsPerLitre[sheet.solvent ?? "mineral-spirits"];

type Laid = Pick<Sheet, "wetFilmMicrometres" | "spreadSquareMetresPerLitre">;

/** As the coat or its sheet says; where both are silent, as its generic type goes on. */
const laidAs = ({ coat, sheet, product }: PlannedCoat): Laid & { isGeneric: boolean } => {
  const wetFilmMicrometres = coat.plannedWetFilmMicrometres ?? sheet.wetFilmMicrometres;
  const { spreadSquareMetresPerLitre } = sheet;
  if (wetFilmMicrometres !== undefined || spreadSquareMetresPerLitre !== undefined)
    return { wetFilmMicrometres, spreadSquareMetresPerLitre, isGeneric: false };
  const generic = genericSheet(product.family);
  return {
    wetFilmMicrometres: generic?.wetFilmMicrometres,
    spreadSquareMetresPerLitre: generic?.spreadSquareMetresPerLitre,
    isGeneric: true,
  };
};

const toLay = (planned: PlannedCoat) => {
  const { coat, piece, surface, sheet } = planned;
  const { wetFilmMicrometres, spreadSquareMetresPerLitre } = laidAs(planned);
  return {
    coatId: coat.id,
    pieceId: piece.id,
    sheetId: sheet.id,
    squareDecimetres: surface.squareDecimetres,
    ...(wetFilmMicrometres !== undefined && { wetFilmMicrometres }),
    ...(spreadSquareMetresPerLitre !== undefined && { spreadSquareMetresPerLitre }),
  };
};

/** "doors ×2, body" */
const facesOf = (coats: readonly PlannedCoat[]): string[] => {
  const count = new Map<string, number>();
  for (const { surface } of coats) count.set(surface.name, (count.get(surface.name) ?? 0) + 1);
  return [...count].map(([name, times]) => (times === 1 ? name : `${name}, ${times} coats`));
};

/** What is left of mixes that may still be used, after the coats that came out of them. */
const standingMillilitres = (facts: Facts, live: readonly LiveMix[]): number =>
  live.reduce((sum, { mix }) => {
    const laid = facts
      .all("coat")
      .filter((coat) => coat.applied?.mixId === mix.id)
      .reduce(
        (taken, coat) =>
          taken + takenByCoat(coat, facts.get("sheet", coat.sheetId), facts.get("surface", coat.surfaceId)),
        0,
      );
    return sum + Math.max(0, mix.millilitres - laid);
  }, 0);

export type MixingChoice = {
  coats: readonly PlannedCoat[];
  gun: GunSetup;
  choiceBySheetId: Readonly<Record<string, ProductChoice>>;
  roomId: string | undefined;
};

export function mixingShown(facts: Facts, choice: MixingChoice, now: InstantMs, zone: string): BatchShown[] {
  const { coats, gun } = choice;
  const coatById = new Map(coats.map((planned) => [planned.coat.id, planned]));
  const plannedOf = (coatIds: readonly string[]) => coatIds.flatMap((id) => coatById.get(id) ?? []);
  const handBySheetId = new Map(
    coats.map((planned) => [planned.sheet.id, isByHand(planned, choice.choiceBySheetId[planned.sheet.id], gun)]),
  );
  const transferOfId = (sheetId: string) => transferOf(handBySheetId.get(sheetId) === true, gun);
  const room = choice.roomId === undefined ? undefined : facts.get("room", choice.roomId);
  const celsius = room && lastReading(facts, room, now)?.airCelsius;
  return sprayBatches(coats.map(toLay), transferOfId).map((batch) => {
    const { sheet, product } = coatById.get(batch.coats[0]?.coatId ?? "") as PlannedCoat;
    const isHand = handBySheetId.get(sheet.id) === true;
    const thinning = choice.choiceBySheetId[sheet.id]?.thinning ?? usualThinning(sheet, isHand);
    const generic = genericSheet(product.family);
    const volumeSolidsPercent = sheet.volumeSolidsPercent ?? generic?.volumeSolidsPercent;
    const ofBatch = plannedOf(batch.coats.map((coat) => coat.coatId));
    const mix = mixToMake(
      batch,
      { ...sheet, volumeSolidsPercent },
      {
        thinning,
        thinnerGramsPerLitre: thinnerGramsPerLitre(sheet),
        cupMillilitres: gun.cupMillilitres,
      },
    );
    const live = liveMixes(facts, product.id, now);
    const cans = cansShown(facts, product.id, now, zone);
    const { potLifeMin, referenceCelsius } = sheet;
    return {
      sheet,
      product,
      batch,
      mix,
      thinning,
      transferPercent: transferOfId(sheet.id),
      thinnerName: sheet.thinner ?? (sheet.mechanism === "water-borne" ? "water" : "thinner"),
      isByHand: isHand,
      ...(!isHand && { strainer: strainerFor(product.family, gun.nozzleMicrometres) }),
      turns: batch.turns.map((turn) => {
        const ofTurn = plannedOf(turn.coatIds);
        const { piece } = ofTurn[0] as PlannedCoat;
        return { ...turn, tag: piece.number, name: piece.name, faces: facesOf(ofTurn) };
      }),
      ...(potLifeMin !== undefined && {
        potLife: {
          minutes: celsius === undefined ? potLifeMin : potLifeInAir({ potLifeMin, referenceCelsius }, celsius),
          ...(celsius !== undefined && { celsius }),
        },
      }),
      cans,
      shelf: {
        millilitres: cans.reduce((sum, { left, isPast }) => sum + (isPast ? 0 : left.millilitres), 0),
        // what stands mixed is laid first
        neededMillilitres: mix.baseMillilitres * Math.max(0, 1 - standingMillilitres(facts, live) / mix.millilitres),
      },
      live,
      cautions: cautionsFor({
        methods: [],
        families: [product.family],
        leadState: "not-painted",
        isSprayed: !isHand,
      }),
      air: airWords(facts, { coats: batch.coats }),
      isGeneric: sheet.volumeSolidsPercent === undefined || ofBatch.some((planned) => laidAs(planned).isGeneric),
      unknownFaces: facesOf(plannedOf(batch.unknownCoatIds)),
    };
  });
}
