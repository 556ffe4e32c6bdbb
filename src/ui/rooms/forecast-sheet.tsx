"use client";
import { useMemo, useState } from "react";
import type { RoomAir } from "~/core/climate/history";
import type { Forecast, Room } from "~/core/shop/tables";
import { bounds, type InstantMs } from "~/core/units";
import { useDevice } from "~/device/react";
import { celsius, humidity, moment } from "../format";
import { CheckField } from "../kit/check-field";
import { Key, Keys } from "../kit/key";
import { MomentField } from "../kit/moment-field";
import { Notice } from "../kit/notice";
import { NumberField } from "../kit/number-field";
import { Sheet } from "../kit/sheet";
import { useAct } from "../shell/act";
import { useNames } from "../shell/names";
import {
  type ForecastErrors,
  type ForecastRow,
  forecastHoursOf,
  newForecast,
  overriddenBy,
  type RowErrors,
  withRow,
} from "./forecast-draft";

type ForecastSheetProps = {
  room: Room;
  air: RoomAir;
  stored?: Forecast;
  now: InstantMs;
  zone: string;
  close: () => void;
};

/** What the weather or the heating will make of the room: from an hour on, the lowest and the dampest it may get. */
export function ForecastSheet({ room, air, stored, now, zone, close }: ForecastSheetProps) {
  const act = useAct();
  const device = useDevice();
  const names = useNames();
  const [draft, setDraft] = useState(() => newForecast(now, zone));
  const [hasLikely, setHasLikely] = useState(false);
  const [errors, setErrors] = useState<ForecastErrors>();
  const found = useMemo(() => forecastHoursOf(draft, air, now, zone), [draft, air, now, zone]);
  const overridden = found.ok ? overriddenBy(found.value, air) : undefined;
  const setRow = (id: number, fields: Partial<ForecastRow>) =>
    setDraft((shown) => ({
      ...shown,
      rows: shown.rows.map((row) => (row.id === id ? { ...row, ...fields } : row)),
    }));
  const send = async () => {
    if (!found.ok) return setErrors(found.refusal);
    const body = { forecastId: device.newId(), roomId: room.id, hours: found.value };
    const proposed = await act("type-forecast", body, { said: `Forecast for ${room.name} set.` });
    if (proposed.state !== "refused") close();
  };
  const lastStored = stored?.hours.at(-1);
  return (
    <Sheet isOpen onOpenChange={(isOpen) => !isOpen && close()} title={`Forecast: ${room.name}`}>
      <p>What the air in this room may come to. It stands before what the last seven days make likely.</p>
      {stored && lastStored && lastStored.fromAt > now && (
        <Notice title="Takes the place of a forecast">
          {names.member(stored.setBy)} set one {moment(stored.setAt, now, zone)}. The new one replaces all of it.
        </Notice>
      )}
      {draft.rows.map((row, index) => (
        <RowFields
          key={row.id}
          row={row}
          number={index + 1}
          zone={zone}
          hasLikely={hasLikely}
          errors={errors?.rows[index] ?? {}}
          onChange={(fields) => setRow(row.id, fields)}
          onRemove={
            draft.rows.length > 1
              ? () => setDraft((shown) => ({ ...shown, rows: shown.rows.filter((other) => other.id !== row.id) }))
              : undefined
          }
        />
      ))}
      <Key glove wide onPress={() => setDraft((shown) => withRow(shown, zone))}>
        It changes after that
      </Key>
      <MomentField
        label="Until"
        zone={zone}
        value={draft.until}
        onChange={(until) => setDraft((shown) => ({ ...shown, until }))}
        error={errors?.until}
        note="At most ten days ahead. After that the room’s own pattern goes on."
      />
      <CheckField
        label="Say what is likely, too"
        note="Left out, the room’s usual hour counts, within the figures above."
        isChecked={hasLikely}
        onChange={setHasLikely}
      />
      {overridden && (
        <p className="forecast-overrides" role="status">
          For these hours the last seven days say: lowest {celsius(Math.round(overridden.lowestCelsius * 10) / 10)}, up
          to {humidity(overridden.highestPercent)}. Yours counts instead.
        </p>
      )}
      <Key kind="main" glove wide onPress={() => void send()}>
        Set the forecast
      </Key>
    </Sheet>
  );
}

type RowFieldsProps = {
  row: ForecastRow;
  number: number;
  zone: string;
  hasLikely: boolean;
  errors: RowErrors;
  onChange: (fields: Partial<ForecastRow>) => void;
  onRemove?: () => void;
};

const tenths = { maximumFractionDigits: 1 };

function RowFields({ row, number, zone, hasLikely, errors, onChange, onRemove }: RowFieldsProps) {
  const degrees = { unit: "°C", minValue: bounds.airCelsius.min, maxValue: bounds.airCelsius.max };
  const percent = { unit: "% RH", minValue: bounds.humidityPercent.min, maxValue: bounds.humidityPercent.max };
  return (
    <fieldset className="forecast-row">
      <legend>{number === 1 ? "First" : `Change ${number - 1}`}</legend>
      <MomentField
        label="From"
        zone={zone}
        value={row.from}
        onChange={(from) => onChange({ from })}
        error={errors.from}
      />
      <div className="forecast-figures">
        <NumberField
          {...degrees}
          label="Lowest air"
          value={row.lowCelsius}
          onChange={(lowCelsius) => onChange({ lowCelsius })}
          formatOptions={tenths}
          error={errors.low}
          glove
        />
        <NumberField
          {...percent}
          label="Highest humidity"
          value={row.highHumidityPercent}
          onChange={(highHumidityPercent) => onChange({ highHumidityPercent })}
          formatOptions={tenths}
          error={errors.high}
          glove
        />
        {hasLikely && (
          <>
            <NumberField
              {...degrees}
              label="Likely air"
              value={row.likelyCelsius}
              onChange={(likelyCelsius) => onChange({ likelyCelsius })}
              formatOptions={tenths}
              error={errors.likely}
              glove
            />
            <NumberField
              {...percent}
              label="Likely humidity"
              value={row.likelyHumidityPercent}
              onChange={(likelyHumidityPercent) => onChange({ likelyHumidityPercent })}
              formatOptions={tenths}
              glove
            />
          </>
        )}
      </div>
      {onRemove && (
        <Keys>
          <Key kind="quiet" onPress={onRemove}>
            Take this row out
          </Key>
        </Keys>
      )}
    </fieldset>
  );
}
