/**
 * How each kind of intent is undone, and what its ruling looks at. A new kind chooses both: the tests want a row for
 * each kind that the shop knows.
 */
import type { TableName } from "./tables";

export type WayBack =
  /** By its maker within a day, while nothing rests on it. */
  | { by: "take-back" }
  /** By one of these: they say what is so now, and leave what was in sight. */
  | { by: "another"; kinds: readonly string[] }
  | { by: "nothing" };

type Ways = {
  back: WayBack;
  /**
   * Rows of its piece that decide about it besides those that it names. `confined`: only those of the surfaces that it
   * names.
   */
  looksAt?: readonly TableName[];
  isConfined?: true;
  /** The rows of which it tells: told that it is so already, it leaves no trace but what an earlier one said of them. */
  tells?: TableName;
};

const takeBack: WayBack = { by: "take-back" };
const nothing: WayBack = { by: "nothing" };
const another = (...kinds: string[]): WayBack => ({ by: "another", kinds });

/** Whatever a gate weighs. */
const film = ["coat", "surface", "pair", "joint", "test", "confirmation", "word", "roomStay", "piece"] as const;
/** A gate of the whole piece. */
const gated = { looksAt: film };
/** A gate of the surfaces that are named. */
const gatedThere = { looksAt: film, isConfined: true } as const;

export const waysByKind: Readonly<Record<string, Ways>> = {
  "take-back": { back: nothing },

  // what happened to a film
  "log-coat": { back: takeBack, ...gatedThere },
  "log-wiped": { back: takeBack, tells: "coat", looksAt: ["coat"], isConfined: true },
  "report-flaw": { back: takeBack, looksAt: ["coat"], isConfined: true },
  "log-mend": { back: takeBack, tells: "coat", looksAt: ["coat"], isConfined: true },
  "report-removed": { back: takeBack, looksAt: ["coat"], isConfined: true },
  "log-water": { back: takeBack, tells: "surface", looksAt: ["surface"], isConfined: true },
  "change-schedule": { back: another("change-schedule"), ...gatedThere },

  // cans and mixes
  "add-can": { back: takeBack, tells: "can" },
  "open-can": { back: takeBack, tells: "can" },
  "count-can": { back: takeBack, tells: "can" },
  "empty-can": { back: takeBack, tells: "can" },
  "log-mix": { back: takeBack, tells: "mix" },

  // hand tests and words
  "record-test": { back: another("take-back-test", "record-test"), ...gatedThere },
  "take-back-test": { back: another("record-test") },
  "confirm-test": { back: another("record-test"), ...gated },
  "set-factor": { back: another("set-factor") },
  "override-gate": { back: another("withdraw-word"), ...gatedThere },
  "withdraw-word": { back: another("override-gate") },
  "treat-as-lead": { back: nothing },

  // the piece and what it is made of
  "add-piece": { back: another("archive-piece") },
  "edit-piece": { back: another("edit-piece") },
  "archive-piece": { back: another("restore-piece"), ...gated },
  "restore-piece": { back: another("archive-piece"), ...gated },
  "add-surface": { back: another("edit-surface"), ...gatedThere },
  "edit-surface": { back: another("edit-surface"), ...gatedThere },
  "set-pairs": { back: another("set-pairs"), ...gated },
  "press-together": { back: another("set-apart"), ...gated },
  "set-apart": { back: another("press-together"), ...gated },
  "log-joint": { back: another("log-joint"), ...gated },
  "release-joint": { back: another("log-joint"), ...gated },
  "inspect-joints": { back: another("set-aside-task") },
  "move-room": { back: another("move-room"), ...gated },
  "move-stage": { back: another("move-stage"), ...gated },

  // promises rest on the safe date of the whole piece
  promise: { back: another("move-promise", "drop-promise"), ...gated },
  "move-promise": { back: another("move-promise"), ...gated },
  "drop-promise": { back: another("promise") },
  "keep-promise": { back: another("promise") },

  // tasks: washing and stripping wet the wood
  "add-task": { back: another("set-aside-task") },
  "edit-task": { back: another("edit-task") },
  "set-aside-task": { back: another("add-task") },
  "finish-task": { back: another("reopen-task"), looksAt: ["surface"] },
  "reopen-task": { back: another("finish-task") },
  "close-out-rags": { back: another("reopen-task") },
  "claim-task": { back: another("release-task") },
  "release-task": { back: another("claim-task") },
  "hand-over-claim": { back: another("hand-over-claim") },
  "end-claim": { back: another("claim-task") },

  // hours are corrected in sight, never unwritten
  "start-timer": { back: another("correct-entry") },
  "stop-timer": { back: another("correct-entry") },
  "add-entry": { back: another("correct-entry") },
  "correct-entry": { back: another("correct-entry") },

  // air
  "record-reading": { back: another("retract-reading") },
  "retract-reading": { back: another("record-reading") },
  "import-readings": { back: another("retract-import") },
  "retract-import": { back: another("import-readings") },
  "type-forecast": { back: another("type-forecast") },

  // the shop: what somebody saw at closing time, or read, is not made unseen
  "close-up": { back: another("close-up") },
  "see-notice": { back: nothing },
  "set-shop": { back: another("set-shop") },
  invite: { back: another("withdraw-invitation") },
  "withdraw-invitation": { back: another("invite") },
  "change-role": { back: another("change-role") },
  "edit-member": { back: another("edit-member") },
  "answer-late": { back: nothing, ...gated },
  "end-membership": { back: another("invite") },
  leave: { back: another("invite") },
  "add-board": { back: another("close-board") },
  "edit-board": { back: another("edit-board") },
  "close-board": { back: another("add-board") },
  "add-room": { back: another("close-room") },
  "edit-room": { back: another("edit-room") },
  "close-room": { back: another("add-room") },
  "add-product": { back: another("retire-product") },
  "copy-sheet": { back: another("edit-sheet") },
  "edit-sheet": { back: another("edit-sheet") },
  "retire-product": { back: another("add-product") },
};

/** The kinds that their maker may take back. */
export const takenBackKinds: readonly string[] = Object.entries(waysByKind)
  .filter(([, { back }]) => back.by === "take-back")
  .map(([kind]) => kind);

export const mayBeTakenBack = (kind: string): boolean => waysByKind[kind]?.back.by === "take-back";
