/** How this bench lays its coats. Kept on this device alone: each bench has its own gun. */
import { type LayingMethod, layingMethods, transferByMethod } from "~/core/coating/spreading";

export type GunSetup = {
  method: LayingMethod;
  transferPercent: number;
  cupMillilitres: number;
  /** The bore of the nozzle, in hundredths of a millimetre on the gun, µm here. */
  nozzleMicrometres: number;
};

export const methodWords: Record<LayingMethod, string> = {
  brush: "Brush",
  roller: "Roller",
  hvlp: "HVLP gun",
  "hvlp-small": "HVLP gun, small or open pieces",
  "air-assisted-airless": "Air-assisted airless",
  airless: "Airless",
  "air-spray": "Air gun, high pressure",
  aerosol: "Aerosol can",
};

export const isSprayed = (method: LayingMethod): boolean => method !== "brush" && method !== "roller";

export const methodChoices = layingMethods.map((id) => ({
  id,
  words: methodWords[id],
  detail: `${transferByMethod[id].from} to ${transferByMethod[id].to} % stays on the piece`,
}));

/** A gravity gun's cup and a nozzle for paint of middling thickness. Common practice. */
export const usualGun: GunSetup = {
  method: "hvlp",
  transferPercent: transferByMethod.hvlp.usual,
  cupMillilitres: 600,
  nozzleMicrometres: 1400,
};

const key = "tackfree-gun";

/** What this device keeps, where it still makes sense. */
export function gunFrom(kept: string | null): GunSetup {
  if (kept === null) return usualGun;
  try {
    const found = JSON.parse(kept) as Partial<GunSetup>;
    const isWhole =
      layingMethods.some((method) => method === found.method) &&
      [found.transferPercent, found.cupMillilitres, found.nozzleMicrometres].every(
        (value) => typeof value === "number" && value > 0,
      );
    return isWhole ? (found as GunSetup) : usualGun;
  } catch {
    // what somebody's browser kept in another form is of no use: the usual gun again
    return usualGun;
  }
}

export const gunHere = (): GunSetup => gunFrom(localStorage.getItem(key));
export const keepGun = (gun: GunSetup): void => localStorage.setItem(key, JSON.stringify(gun));
