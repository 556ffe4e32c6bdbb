"use client";
import { useState } from "react";
import type { Shop } from "~/core/shop/tables";
import { zonesWith } from "../entrance/place-here";
import { WeekStartField } from "../entrance/week-start-field";
import { CheckField } from "../kit/check-field";
import { ChoiceField } from "../kit/choice-field";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { TextField } from "../kit/text-field";
import { useAct } from "../shell/act";
import { type ShopDraft, settingMissing, shopChanges } from "./shop-settings";

export function SettingsSheet({ shop, close }: { shop: Shop; close: () => void }) {
  const act = useAct();
  const [draft, setDraft] = useState<ShopDraft>(() => {
    const { id: _, ...settings } = shop;
    return settings;
  });
  const [missing, setMissing] = useState<string>();
  const send = async () => {
    const found = settingMissing(draft);
    setMissing(found);
    if (found) return;
    for (const change of shopChanges(shop, { ...draft, name: draft.name.trim() })) {
      const proposed = await act("set-shop", change, { said: "The shop’s settings are changed." });
      if (proposed.state === "refused") return;
    }
    close();
  };
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title="The shop’s settings">
      <SettingsFields draft={draft} onChange={setDraft} />
      {missing && (
        <Notice kind="stuck" title="Something is missing">
          {missing}
        </Notice>
      )}
      <Key kind="main" glove wide onPress={() => void send()}>
        Change them
      </Key>
    </Sheet>
  );
}

function SettingsFields({ draft, onChange }: { draft: ShopDraft; onChange: (draft: ShopDraft) => void }) {
  const [zones] = useState(() => zonesWith(draft.zone).map((zone) => ({ id: zone, words: zone })));
  const set = (fields: Partial<ShopDraft>) => onChange({ ...draft, ...fields });
  return (
    <>
      <TextField
        label="Name of the shop"
        value={draft.name}
        onChange={(name) => set({ name })}
        maxLength={80}
        isRequired
      />
      <ChoiceField
        label="Time zone"
        note="Another zone moves the days and weeks that hours belong to."
        choices={zones}
        chosen={draft.zone}
        onChoose={(zone) => set({ zone })}
      />
      <WeekStartField value={draft.weekStartsOn} onChange={(weekStartsOn) => set({ weekStartsOn })} />
      <NumberField
        label="A claim lasts without a sign of work"
        unit="h"
        value={draft.leaseMin / 60}
        onChange={(hours) => set({ leaseMin: Math.round(hours * 60) })}
        minValue={1}
        maxValue={720}
      />
      <NumberField
        label="Its holder is asked so long before"
        unit="h"
        value={draft.leaseAskMin / 60}
        onChange={(hours) => set({ leaseAskMin: Math.round(hours * 60) })}
        minValue={0}
        maxValue={720}
      />
      <NumberField
        label="The shared tablet keeps somebody’s name for"
        unit="min"
        value={draft.tabletRecheckMin}
        onChange={(tabletRecheckMin) => set({ tabletRecheckMin })}
        minValue={1}
        maxValue={1440}
      />
      <NumberField
        label="Paint from before this year may hold lead"
        unit="year"
        note="As your country’s rule says; ask its authority. A later year locks more pieces."
        value={draft.leadBanYear}
        onChange={(leadBanYear) => set({ leadBanYear })}
        minValue={1900}
        maxValue={2100}
        formatOptions={{ useGrouping: false }}
      />
      <CheckField
        label="Negative swabs on every layer lift the lead lock"
        note="A swab only screens. Where your local rule wants a laboratory or X-ray, leave this off."
        isChecked={draft.swabSuffices ?? false}
        onChange={(swabSuffices) => set({ swabSuffices })}
      />
      <NumberField
        label="Warmth may hurry the likely time up to"
        unit="×"
        note="The safe time is never hurried."
        value={draft.likelyCap ?? 1}
        onChange={(likelyCap) => set({ likelyCap: Math.round(likelyCap * 10) / 10 })}
        minValue={1}
        maxValue={2}
        step={0.1}
      />
      <NumberField
        label="A fresh joint may be below its chalk temperature for"
        unit="min"
        note="Longer in its first day, and it is to be looked at."
        value={draft.chalkGraceMin ?? 30}
        onChange={(chalkGraceMin) => set({ chalkGraceMin })}
        minValue={0}
        maxValue={1440}
      />
      <NumberField
        label="A joint under load stays in clamps at least"
        unit="h"
        note="Left empty, the glue’s own sheet rules."
        value={draft.stressedClampMin === undefined ? Number.NaN : draft.stressedClampMin / 60}
        onChange={(hours) => !Number.isNaN(hours) && set({ stressedClampMin: Math.round(hours * 60) })}
        minValue={1}
        maxValue={168}
      />
      <CheckField
        label="Partners see everybody’s hours"
        isChecked={draft.partnersSeeHours}
        onChange={(partnersSeeHours) => set({ partnersSeeHours })}
      />
      <CheckField
        label="A helper’s passed test opens a gate"
        note="Else a partner confirms it first."
        isChecked={draft.helperTestOpens}
        onChange={(helperTestOpens) => set({ helperTestOpens })}
      />
    </>
  );
}
