/** The people of the invented shop. All names are made up. */
import type { Role } from "~/core/shop/entities/people";
import type { Member } from "~/core/shop/tables";
import { idOf, sha256Of } from "./names";
import type { Pen } from "./pen";
import type { Line } from "./script";

export const shopId = idOf("shop");
export const boardId = idOf("board");

type PersonPlan = {
  name: string;
  role: Role;
  markLetter: string;
  markOutline: Member["markOutline"];
  skills: Member["skills"];
};

export const people = {
  fern: {
    name: "Fern",
    role: "owner",
    markLetter: "F",
    markOutline: "disc",
    skills: ["spray", "brush", "glue", "strip"],
  },
  rufus: {
    name: "Rufus",
    role: "partner",
    markLetter: "R",
    markOutline: "block",
    skills: ["glue", "veneer", "drive", "lift"],
  },
  sable: { name: "Sable", role: "partner", markLetter: "S", markOutline: "house", skills: ["brush", "drive", "lift"] },
  hollis: { name: "Hollis", role: "helper", markLetter: "H", markOutline: "hexagon", skills: ["strip", "lift"] },
  bea: { name: "Bea", role: "bookkeeper", markLetter: "B", markOutline: "arch", skills: [] },
  odile: { name: "Odile", role: "outlet", markLetter: "O", markOutline: "cup", skills: [] },
} as const satisfies Record<string, PersonPlan>;
export type Person = keyof typeof people;

export const memberIdOf = (person: Person): string => idOf(`member ${person}`);

/** A person at a device: what one line is sent from. */
export const hands = {
  fern: { person: "fern", device: "Fern's phone", isSharedTablet: false },
  rufus: { person: "rufus", device: "Rufus's phone", isSharedTablet: false },
  sable: { person: "sable", device: "Sable's phone", isSharedTablet: false },
  hollis: { person: "hollis", device: "Hollis's phone", isSharedTablet: false },
  "hollis at the tablet": { person: "hollis", device: "Shop tablet", isSharedTablet: true },
  bea: { person: "bea", device: "Bea's laptop", isSharedTablet: false },
  odile: { person: "odile", device: "Outlet's desktop", isSharedTablet: false },
  /** Fern reads the loggers of the rooms out. */
  logger: { person: "fern", device: "Loggers of the rooms", isSharedTablet: false },
} as const satisfies Record<string, { person: Person; device: string; isSharedTablet: boolean }>;
export type Hand = keyof typeof hands;

export const deviceIdOf = (hand: Hand): string => idOf(`device ${hands[hand].device}`);

const arrivalOf = (person: Person) => {
  const { name, markLetter, markOutline } = people[person];
  return { memberId: memberIdOf(person), memberName: name, markLetter, markOutline };
};

const secretSha256Of = (person: Person) => sha256Of(`invitation of the invented shop for ${person}`);

/** Fern founds the shop and invites the others, who join like anybody. */
export function gathering({ clock, write }: Pen, zone: string): Line[] {
  const invited = (Object.keys(people) as Person[]).filter((person) => person !== "fern");
  const expiresAt = clock.at("Sat 08:00");
  const skilled = (Object.keys(people) as Person[]).filter((person) => people[person].skills.length > 0);
  return [
    write("Mon 08:00", "fern", "found-shop", {
      shopId,
      name: "The Old Creamery, Harrow Bend",
      zone,
      country: "US",
      currency: "USD",
      ...arrivalOf("fern"),
      boardId,
      boardName: "Creamery floor",
    }),
    ...invited.map((person) =>
      write("Mon 08:10", "fern", "invite", {
        invitationId: idOf(`invitation ${person}`),
        role: people[person].role,
        forName: people[person].name,
        secretSha256: secretSha256Of(person),
        expiresAt,
      }),
    ),
    ...invited.map((person) =>
      write("Mon 08:30", person, "join", { secretSha256: secretSha256Of(person), ...arrivalOf(person) }),
    ),
    ...skilled.map((person) =>
      write("Mon 08:45", "fern", "edit-member", {
        memberId: memberIdOf(person),
        field: "skills",
        was: [],
        value: people[person].skills,
      }),
    ),
  ];
}
