/** What goes wrong in a week that was already told to people, as a change of the instance and of what may stay. */
import { accept, type Result, refuse } from "~/core/result";
import type { Slot, SlotInstance, Unusable } from "./instance";

/** All times in grains of the instance. */
export type Disruption =
  | { kind: "slot-slips"; coat: string; byGrains: number }
  | { kind: "coat-redone"; coat: string; redoId: string; minLag: number }
  | { kind: "booth-closed"; booth: string; from: number; to: number }
  | { kind: "person-away"; person: string; from: number; to: number }
  | { kind: "lag-longer"; coat: string; minLag: number };

export type Disrupted = { instance: SlotInstance; notBefore: Map<string, number> };

/** What is left of intervals without one stretch. */
export const without = (intervals: [number, number][], from: number, to: number): [number, number][] =>
  intervals.flatMap(([begin, end]): [number, number][] => {
    if (end <= from || begin >= to) return [[begin, end]];
    const parts: [number, number][] = [
      [begin, from],
      [to, end],
    ];
    return parts.filter(([start, stop]) => start < stop);
  });

function withCoats(
  instance: SlotInstance,
  change: (coats: SlotInstance["pieces"][number]["surfaces"][number]["coats"]) => typeof coats,
): SlotInstance {
  const pieces = instance.pieces.map((piece) => ({
    ...piece,
    surfaces: piece.surfaces.map((surface) => ({ ...surface, coats: change(surface.coats) })),
  }));
  return { ...instance, pieces };
}

const unknown = (id: string): Result<never, Unusable> =>
  refuse({ kind: "slots-unusable", ids: [id], why: `The plan does not know ${id}.` });

/** The instance after a disruption, and which slots may not begin before when. */
export function disrupt(
  instance: SlotInstance,
  slots: readonly Slot[],
  event: Disruption,
): Result<Disrupted, Unusable> {
  const notBefore = new Map<string, number>();
  switch (event.kind) {
    case "slot-slips": {
      const slot = slots.find(({ coat }) => coat === event.coat);
      if (!slot) return unknown(event.coat);
      notBefore.set(event.coat, slot.start + event.byGrains);
      if (event.byGrains <= 0) return accept({ instance, notBefore });
      // a lock cannot hold what has already slipped; booth and hands stay locked
      const locks = (instance.locks ?? []).map(({ start, ...line }) =>
        line.coat === event.coat || start === undefined ? line : { ...line, start },
      );
      return accept({ instance: { ...instance, locks }, notBefore });
    }
    case "coat-redone": {
      if (!slots.some(({ coat }) => coat === event.coat)) return unknown(event.coat);
      const changed = withCoats(instance, (coats) =>
        coats.flatMap((coat) => {
          if (coat.id !== event.coat) return [coat];
          const { maxLag: _window, overMax: _over, sandTime: _sand, ...line } = coat;
          return [coat, { ...line, id: event.redoId, minLag: event.minLag }];
        }),
      );
      return accept({ instance: changed, notBefore });
    }
    case "booth-closed": {
      if (!instance.booths.some(({ id }) => id === event.booth)) return unknown(event.booth);
      const booths = instance.booths.map((booth) =>
        booth.id === event.booth ? { ...booth, open: without(booth.open, event.from, event.to) } : booth,
      );
      return accept({ instance: { ...instance, booths }, notBefore });
    }
    case "person-away": {
      if (!instance.people.some(({ id }) => id === event.person)) return unknown(event.person);
      const people = instance.people.map((person) =>
        person.id === event.person ? { ...person, available: without(person.available, event.from, event.to) } : person,
      );
      return accept({ instance: { ...instance, people }, notBefore });
    }
    case "lag-longer": {
      if (!slots.some(({ coat }) => coat === event.coat)) return unknown(event.coat);
      const changed = withCoats(instance, (coats) =>
        coats.map((coat) => {
          if (coat.id !== event.coat) return coat;
          // a window that opens later than it closed moves with its opening
          const maxLag = coat.maxLag == null ? coat.maxLag : Math.max(coat.maxLag, event.minLag);
          return { ...coat, minLag: event.minLag, ...(maxLag !== undefined && { maxLag }) };
        }),
      );
      return accept({ instance: changed, notBefore });
    }
  }
}
