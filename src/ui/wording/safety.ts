/** Words for what work here can do to people. */
import { closingWords, listed, methodWords } from "../trade-words";
import { at, type WordsByKind } from "./words";

export const safetyWords = {
  "lead-locked": (r) => ({
    title: `No ${listed(r.methods.map((method) => methodWords[method]))}`,
    found: `Old paint: ${r.leadState.replaceAll("-", " ")}. Paint from before ${r.banYear} may hold lead.`,
    why: "Its dust and fumes poison people, children most of all.",
    instead:
      "Have every layer tested by a laboratory, or treat it as lead: wet and contained. Local rules and licensed people decide how.",
  }),
  "left-open": (r) => ({
    title: "Not yet: something is left",
    found: `Not settled: ${listed(r.points.map((point) => closingWords[point]))}.`,
    instead: "See to it, or leave it with a reason that the others can read.",
  }),
  "rags-open": (r, c) => ({
    title: "No: oily rags are still out",
    found: `${listed(r.taskIds.map((id) => c.names.task(id)))}${r.dueAt === undefined ? "" : `, due ${at(r.dueAt, c)}`}.`,
    why: "Rags wet with drying oil heat up by themselves and can burn through the night.",
    instead: "Lay them flat outdoors in one layer, or under water in a lidded metal can. Then close up.",
  }),
  "rags-not-safe": () => ({
    title: "No: that is not put away",
    found: "Rags wet with drying oil heat up by themselves and can burn hours later.",
    instead:
      "Spread them flat in one layer outdoors on something that cannot burn, or sink them in water in a lidded metal can.",
  }),
  "ignition-near": (r, c) => ({
    title: "No: a flame is near",
    found: `There is an open flame in the ${c.names.room(r.roomId)}.`,
    why: "Solvent vapour catches fire at a distance.",
    instead: "Put it out and air the room first. The data sheet and the local fire code rule.",
  }),
} satisfies Partial<WordsByKind>;
