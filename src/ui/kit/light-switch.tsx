"use client";
import { useSyncExternalStore } from "react";
import { type LightChoice, lightChoices, lightEvent, lightKey } from "./light";
import { Picks } from "./picks";

const words: Record<LightChoice, string> = {
  day: "Day",
  garage: "Garage",
  contrast: "Contrast",
  system: "As the device",
};

function keptChoice(): LightChoice {
  try {
    const kept = localStorage.getItem(lightKey);
    return lightChoices.find((choice) => choice === kept) ?? "system";
  } catch (_storageIsShut) {
    return "system";
  }
}

function subscribe(changed: () => void) {
  addEventListener(lightEvent, changed);
  addEventListener("storage", changed);
  return () => {
    removeEventListener(lightEvent, changed);
    removeEventListener("storage", changed);
  };
}

/** The light of this device: the phone in the sun and the wall in the dim corner differ. Needs `lightScript` on the page. */
export function LightSwitch() {
  const chosen = useSyncExternalStore(subscribe, keptChoice, () => "system" as const);
  return (
    <Picks
      label="Light"
      picks={lightChoices.map((id) => ({ id, words: words[id] }))}
      chosen={chosen}
      onChoose={(choice) => dispatchEvent(new CustomEvent(lightEvent, { detail: choice }))}
    />
  );
}
