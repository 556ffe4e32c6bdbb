/** Every intent that this shop knows, by kind. */
import type { IntentDefinition } from "../define";
import * as cans from "./cans";
import * as claims from "./claims";
import * as closing from "./closing";
import * as coats from "./coats";
import * as entries from "./entries";
import * as forecasts from "./forecasts";
import * as hits from "./hits";
import * as joints from "./joints";
import * as lateReports from "./late-reports";
import * as leadLock from "./lead-lock";
import * as membership from "./membership";
import * as mixes from "./mixes";
import * as notices from "./notices";
import * as pairs from "./pairs";
import * as pieces from "./pieces";
import * as places from "./places";
import * as products from "./products";
import * as promises from "./promises";
import * as rags from "./rags";
import * as readings from "./readings";
import * as roomMoves from "./room-moves";
import * as schedule from "./schedule";
import * as settings from "./settings";
import * as stageMoves from "./stage-moves";
import * as surfaces from "./surfaces";
import * as takeBack from "./take-back";
import * as tasks from "./tasks";
import * as tests from "./tests";
import * as timers from "./timers";
import * as water from "./water";
import * as words from "./words";

const all = Object.values({
  ...cans,
  ...claims,
  ...closing,
  ...coats,
  ...entries,
  ...forecasts,
  ...hits,
  ...joints,
  ...lateReports,
  ...leadLock,
  ...membership,
  ...mixes,
  ...notices,
  ...pairs,
  ...pieces,
  ...places,
  ...products,
  ...promises,
  ...rags,
  ...readings,
  ...roomMoves,
  ...schedule,
  ...settings,
  ...stageMoves,
  ...surfaces,
  ...takeBack,
  ...tasks,
  ...tests,
  ...timers,
  ...water,
  ...words,
})
  .filter((part) => typeof part === "object" && "judge" in part)
  // each rule knows the shape of its own body; the door parses the body with that rule's schema before it calls the rule
  .map((part) => part as unknown as IntentDefinition);

const byKind = new Map(all.map((definition) => [definition.kind, definition]));

export const intentKinds = [...byKind.keys()];

export const definitionOf = (kind: string): IntentDefinition | undefined => byKind.get(kind);
