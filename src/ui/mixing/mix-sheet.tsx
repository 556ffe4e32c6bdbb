"use client";
import { useState } from "react";
import { hardenerOffPercent, ratioTolerancePercent } from "~/core/coating/two-part";
import type { Facts } from "~/core/shop/facts";
import { useDevice } from "~/device/react";
import { SeveralField } from "../floor/acts/several-field";
import { Key } from "../kit/key";
import { Notice } from "../kit/notice";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { useAct } from "../shell/act";
import { volume } from "./amount-words";
import type { BatchShown } from "./mixing-view";

type MixSheetProps = { shown: BatchShown; facts: Facts; roomId: string | undefined; close: () => void };

/** What really went into the pot, out of which cans: its pot life runs from now, in the air of this room. */
export function MixSheet({ shown, facts, roomId, close }: MixSheetProps) {
  const act = useAct();
  const device = useDevice();
  const { mix, sheet, cans, product, thinnerName } = shown;
  const [base, setBase] = useState(() => Math.round(mix.baseMillilitres));
  const [hardener, setHardener] = useState(() => Math.round(mix.hardenerMillilitres));
  const [thinner, setThinner] = useState(() => Math.round(mix.thinnerMillilitres));
  const [canIds, setCanIds] = useState<string[]>(() => firstCan(shown));
  const [isPressed, setPressed] = useState(false);
  const perMille = sheet.hardenerPartsPerMille;
  const isWhole = base >= 1 && !Number.isNaN(hardener) && !Number.isNaN(thinner) && roomId !== undefined;
  const off = perMille === undefined || !isWhole ? 0 : hardenerOffPercent({ base, hardener }, perMille);
  // a millilitre either way is how finely a cup can be read
  const isOff = Math.abs(off) > ratioTolerancePercent && Math.abs((off * hardener) / 100) > 1;
  const log = async () => {
    setPressed(true);
    if (!isWhole) return;
    const body = {
      mixId: device.newId(),
      sheetId: sheet.id,
      canIds,
      millilitres: base + hardener + thinner,
      ...(hardener > 0 && { hardenerMillilitres: hardener }),
      ...(thinner > 0 && { thinnerMillilitres: thinner }),
      roomId,
    };
    const proposed = await act("log-mix", body, { said: `${volume(body.millilitres)} of ${product.name} mixed.` });
    if (proposed.state !== "refused") close();
  };
  const figure = (label: string, value: number, onChange: (value: number) => void, least: number) => (
    <NumberField
      label={label}
      unit="ml"
      glove
      minValue={least}
      maxValue={100_000}
      formatOptions={{ maximumFractionDigits: 0 }}
      value={value}
      onChange={onChange}
      error={isPressed && !(value >= least) ? `Say how much, ${least} at least.` : undefined}
    />
  );
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Mixed: ${product.name}`}>
      {figure(perMille === undefined ? "From the can" : "Base", base, setBase, 1)}
      {perMille !== undefined && figure("Hardener", hardener, setHardener, 0)}
      {figure(`Thinned with ${thinnerName}`, thinner, setThinner, 0)}
      {isOff && (
        <Notice kind="person" title={`${Math.abs(Math.round(off))} % ${off > 0 ? "too much" : "too little"} hardener`}>
          Off by more than {ratioTolerancePercent} %. Put the pour right before it is used, or write down what is in the
          pot.
        </Notice>
      )}
      {cans.length > 0 ? (
        <SeveralField
          label="Out of"
          chosen={canIds}
          onChoose={setCanIds}
          choices={cans.map(({ can, leftWords, lifeWords }) => ({
            id: can.id,
            words: `Can ${can.label}`,
            note: `${leftWords}. ${lifeWords}`,
          }))}
        />
      ) : (
        <p className="why">No can of it is written down; what is left on the shelf is not known then.</p>
      )}
      <p className="why">
        {roomId === undefined
          ? "Choose a room first: the pot life goes by its air."
          : `In the ${facts.get("room", roomId)?.name ?? "room"}, just now.`}
      </p>
      <Key kind="main" glove wide onPress={() => void log()}>
        Log {isWhole ? volume(base + hardener + thinner) : "the mix"}
      </Key>
    </Sheet>
  );
}

/** The can to use up first that has enough in it, and is not past its life. */
const firstCan = ({ cans, mix }: BatchShown): string[] => {
  const usable = cans.filter(({ isPast }) => !isPast);
  const enough = usable.find(({ left }) => left.millilitres >= mix.baseMillilitres) ?? usable[0];
  return enough ? [enough.can.id] : [];
};
