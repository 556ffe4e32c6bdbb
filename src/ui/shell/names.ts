import { useMemo } from "react";
import type { Facts } from "~/core/shop/facts";
import { useFloor } from "~/device/react";
import type { Names } from "../wording/words";

/** The names behind ids, as this device knows them. */
export const namesFrom = (facts: Facts): Names => ({
  member: (id) => (id && facts.get("member", id)?.name) || "somebody",
  surface: (id) => (id && facts.get("surface", id)?.name) || "a surface",
  room: (id) => (id && facts.get("room", id)?.name.toLowerCase()) || "room",
  task: (id) => (id && facts.get("task", id)?.title) || "a task",
  joint: (id) => (id && facts.get("joint", id)?.name) || "A joint",
});

export function useNames(): Names {
  const facts = useFloor((floor) => floor);
  return useMemo(() => namesFrom(facts), [facts]);
}
