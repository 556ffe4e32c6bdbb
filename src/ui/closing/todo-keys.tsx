"use client";
import { Check, Droplets, Square, Wind } from "lucide-react";
import { Key, Keys } from "~/ui/kit/key";
import { useAct } from "~/ui/shell/act";
import type { TodoLine } from "./closing-lines";
import { anyFlame, type Said } from "./closing-said";

type TodoKeysProps = { line: TodoLine; onSay: (said: Said) => void; onAskWhy: () => void };

/** What answers a line: it is put right at once, or left with a reason where that may be. */
export function TodoKeys({ line, onSay, onAskWhy }: TodoKeysProps) {
  const act = useAct();
  const { leaveWhy } = line;
  const leave = () => (leaveWhy ? onSay({ answer: "left", why: leaveWhy }) : onAskWhy());
  const about = (words: string) => `${words}: ${line.title}`;
  const leaveKey = (words: string) => (
    <Key glove aria-label={about(words)} onPress={leave}>
      {words}
    </Key>
  );
  switch (line.point) {
    case "rags":
      return <RagKeys taskId={line.taskId as string} about={about} />;
    case "flames": {
      const isOut = line.key === anyFlame ? "Nothing burns" : "It is out";
      return (
        <Keys lay="pair">
          <Key glove kind="stop" aria-label={about(isOut)} onPress={() => onSay({ answer: "clear" })}>
            {isOut}
          </Key>
          {!line.isNeverLeft && leaveKey("It burns on")}
        </Keys>
      );
    }
    case "heater":
      return (
        <Keys lay="pair">
          <Key glove kind="stop" aria-label={about("All off")} onPress={() => onSay({ answer: "clear" })}>
            All off
          </Key>
          {leaveKey("Stays on")}
        </Keys>
      );
    case "wipes": {
      const wiped = async () => {
        for (const coatId of line.coatIds ?? []) await act("log-wiped", { coatId }, { said: "Wiped back." });
      };
      return (
        <Keys lay="pair">
          <Key glove kind="stop" icon={<Check aria-hidden="true" />} onPress={() => void wiped()}>
            Wiped back
          </Key>
          {leaveKey("Leave it")}
        </Keys>
      );
    }
    case "cold-glue":
      return (
        <Keys lay="pair">
          <Key glove kind="stop" href="/rooms">
            Warmer rooms
          </Key>
          {leaveKey("Leave it")}
        </Keys>
      );
    case "timers":
      if (line.entryId === undefined) return <Keys>{leaveKey("They know")}</Keys>;
      return (
        <Keys>
          <Key
            glove
            kind="stop"
            icon={<Square aria-hidden="true" fill="currentColor" />}
            onPress={() => void act("stop-timer", { entryId: line.entryId }, { said: "Stopped." })}
          >
            Stop
          </Key>
        </Keys>
      );
    case "unsent":
      return <Keys>{leaveKey("Leave them here")}</Keys>;
  }
}

/** The two safe ends, each as big as a hand in a glove. */
function RagKeys({ taskId, about }: { taskId: string; about: (words: string) => string }) {
  const act = useAct();
  const putAway = (how: "flat-outdoors" | "water-can") =>
    void act("close-out-rags", { taskId, how }, { said: "The rags are put away." });
  return (
    <Keys lay="stack">
      <Key
        kind="stop"
        glove
        wide
        aria-label={about("Flat outdoors, one layer")}
        icon={<Wind aria-hidden="true" />}
        onPress={() => putAway("flat-outdoors")}
      >
        Flat outdoors, one layer
      </Key>
      <Key
        kind="stop"
        glove
        wide
        aria-label={about("Under water, lidded metal can")}
        icon={<Droplets aria-hidden="true" />}
        onPress={() => putAway("water-can")}
      >
        Under water, lidded metal can
      </Key>
    </Keys>
  );
}
