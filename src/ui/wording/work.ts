/** Words for pieces, tasks, claims and promises. */
import { duration } from "../format";
import { listed, stageWords } from "../trade-words";
import { at, holder, opensAt, type WordsByKind } from "./words";

export const workWords = {
  "tasks-open": (r, c) => ({
    title: "Not yet: work is open",
    found: `Still open: ${listed(r.taskIds.map(c.names.task))}.`,
    instead: "Finish it, or set it aside with a reason.",
  }),
  "task-waits": (r, c) => ({
    title: "Not yet: something comes first",
    found: `Waiting for ${listed(r.taskIds.map(c.names.task))}.`,
    why: r.waitsUntilAt === undefined ? undefined : `Until ${at(r.waitsUntilAt, c)}.`,
    instead: "Take another task meanwhile.",
  }),
  "task-cycle": (r, c) => ({
    title: "No: that order bites its tail",
    found: `${listed(r.taskIds.map(c.names.task))} would each wait for the other.`,
    instead: "Take one of them out of the order.",
  }),
  "task-is-over": (r, c) => ({
    title: "No: that task is over",
    found: `${c.names.task(r.taskId)} is ${r.state.replaceAll("-", " ")}.`,
    instead: "Reopen it if it needs doing again.",
  }),
  "skill-missing": (r, c) => ({
    title: "Not alone",
    found: `This needs ${listed(r.skills)}.`,
    instead:
      r.membersWith.length > 0
        ? `${listed(r.membersWith.map(c.names.member))} can.`
        : "An owner can note a skill at Members.",
  }),
  "piece-incomplete": (r) => ({
    title: "Not yet: something is missing",
    found: `It still needs: ${listed(r.fields)}.`,
    instead: "Add it on the piece sheet.",
  }),
  "reason-missing": (r) => ({
    title: "Say why",
    found: "Going back needs a reason.",
    instead: `One of: ${listed(r.reasons.map((reason) => reason.replaceAll("-", " ")))}.`,
  }),
  "moved-meanwhile": (r, c) => ({
    title: "It has moved meanwhile",
    found: `${c.names.member(r.byMemberId)} moved it to ${stageWords[r.to]}, ${at(r.at, c)}.`,
    why: `Yours started from ${stageWords[r.fromStage]}.`,
    instead: "Move it on from where it is now.",
  }),
  "changed-meanwhile": (r, c) => ({
    title: "Changed meanwhile",
    found: `${r.byMemberId ? c.names.member(r.byMemberId) : "Somebody"} changed ${r.field} to “${String(r.theirs ?? "nothing")}”.`,
    instead: "Look at both, then write yours again if it still holds.",
  }),
  "already-claimed": (r, c) => ({
    title: "Taken",
    found: `${c.names.member(r.holderId)} has had it since ${at(r.claimedAt, c)}.`,
    why: `Held until ${at(r.leaseEndsAt, c)} unless work on it goes on.`,
    instead: "Take another, or ask for it.",
  }),
  "claimed-while-apart": (r, c) => ({
    title: "Two took it; nothing is lost",
    found: `${c.names.member(r.holderId)} has had it since ${at(r.claimedAt, c)}. You could not know.`,
    why:
      r.keptSeconds > 0
        ? `Your ${duration(r.keptSeconds)} stay on the piece as help.`
        : "Anything you logged stays on the piece as help.",
    instead: `${c.names.member(r.holderId)} can hand it over with one tap.`,
  }),
  "not-claimed": (r, c) => ({
    title: "Not yours",
    found: `You do not hold ${c.names.task(r.taskId)}.`,
    instead: "Its holder hands it over, or an owner ends the claim.",
  }),
  "promise-too-early": (r, c) => ({
    title: "Too early to promise",
    found: `Asked for ${at(r.dueAt, c)}.`,
    why:
      r.safeAt === undefined
        ? "Its coats are not on yet."
        : `The earliest honest date is ${opensAt(r.safeAt, c)}: ${holder(r, c)}.`,
    instead: "Promise that, or give your word with a reason.",
  }),
  "promise-stands": (r, c) => ({
    title: "There is a promise already",
    found: `Due ${at(r.dueAt, c)}.`,
    instead: "Move that one and say why.",
  }),
} satisfies Partial<WordsByKind>;
