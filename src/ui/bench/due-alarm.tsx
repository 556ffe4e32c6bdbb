"use client";
import { Check, Droplets, Wind } from "lucide-react";
import type { InstantMs } from "~/core/units";
import { moment } from "~/ui/format";
import { Film } from "~/ui/kit/film";
import { Key, Keys } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import { listed } from "~/ui/trade-words";
import { Alarm } from "./alarm";
import { type DueAlarm, minutesLeft, type RagsAlarm, type WipeAlarm } from "./alarms";

type Now = { now: InstantMs; zone: string };

export const DueAlarmHere = ({ alarm, ...time }: { alarm: DueAlarm } & Now) =>
  alarm.kind === "wipe" ? <WipeHere alarm={alarm} {...time} /> : <RagsHere alarm={alarm} {...time} />;

function WipeHere({ alarm, now, zone }: { alarm: WipeAlarm } & Now) {
  const act = useAct();
  const by = moment(alarm.dueAt, now, zone);
  const where = `${alarm.tag} · ${alarm.surfaces.join(", ")} · ${alarm.product}.`;
  const isEarly = now < alarm.fromAt;
  const wiped = async () => {
    for (const coatId of alarm.coatIds) {
      await act("log-wiped", { coatId }, { tag: alarm.tag, said: `${alarm.tag} is wiped back.` });
    }
  };
  return (
    <Alarm
      title={isEarly ? `Wipe back from ${moment(alarm.fromAt, now, zone)}` : "Wipe back"}
      by={`by ${by}`}
      minutes={minutesLeft(alarm.dueAt, now)}
      film={
        <Film
          words={{ surface: listed(alarm.surfaces), state: "wet, to be wiped back", safe: by }}
          ripple="wet"
          now={Math.min(1, (now - alarm.laidAt) / Math.max(1, alarm.dueAt - alarm.laidAt))}
          safe={{}}
        />
      }
      keys={
        <Key kind="stop" glove wide icon={<Check aria-hidden="true" />} onPress={() => void wiped()}>
          Wiped back
        </Key>
      }
    >
      <p>
        {where}{" "}
        {now < alarm.dueAt
          ? `After ${by} it grabs the cloth.`
          : "It grabs by now. The can’s data sheet says how to free it."}
      </p>
    </Alarm>
  );
}

function RagsHere({ alarm, now, zone }: { alarm: RagsAlarm } & Now) {
  const act = useAct();
  const putAway = (how: "flat-outdoors" | "water-can") =>
    act("close-out-rags", { taskId: alarm.taskId, how }, { tag: alarm.tag, said: "The rags are put away." });
  const from = [alarm.tag && `From ${alarm.tag}`, alarm.product, alarm.byName && `laid by ${alarm.byName}`];
  return (
    <Alarm
      title="Oily rags"
      by={`by ${moment(alarm.dueAt, now, zone)}`}
      minutes={minutesLeft(alarm.dueAt, now)}
      keys={
        <Keys lay="stack">
          <Key kind="stop" glove wide icon={<Wind aria-hidden="true" />} onPress={() => void putAway("flat-outdoors")}>
            Flat outdoors, one layer
          </Key>
          <Key kind="stop" glove wide icon={<Droplets aria-hidden="true" />} onPress={() => void putAway("water-can")}>
            Under water, lidded metal can
          </Key>
        </Keys>
      }
    >
      <p>
        {from.filter(Boolean).join(" · ")}
        {from.some(Boolean) && ". "}
        Heaped, they heat up by themselves and can burn hours later. The can’s data sheet and the local fire code go
        first.
      </p>
    </Alarm>
  );
}
