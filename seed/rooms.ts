/** Where the invented shop works. Figures are made up. */
import type { Room } from "~/core/shop/tables";
import { idOf } from "./names";
import type { Pen } from "./pen";
import type { Line } from "./script";

type RoomPlan = Pick<Room, "name" | "uses" | "usualCelsius" | "usualHumidityPercent"> & {
  racks?: { name: string; squareDecimetres: number }[];
};

export const rooms = {
  spray: { name: "Spray room", uses: ["spray"], usualCelsius: 19, usualHumidityPercent: 48 },
  loft: {
    name: "Loft",
    uses: ["cure", "bench"],
    usualCelsius: 18,
    usualHumidityPercent: 50,
    racks: [
      { name: "Rack by the hatch", squareDecimetres: 900 },
      { name: "Long rack", squareDecimetres: 1600 },
    ],
  },
  coldBay: { name: "Cold bay", uses: ["store", "bench"], usualCelsius: 9, usualHumidityPercent: 72 },
  outlet: { name: "Outlet", uses: ["away"], usualCelsius: 20, usualHumidityPercent: 45 },
  road: { name: "On the road", uses: ["away"], usualCelsius: 12, usualHumidityPercent: 60 },
} satisfies Record<string, RoomPlan>;
export type RoomName = keyof typeof rooms;

export const readRooms = ["spray", "loft", "coldBay"] as const satisfies readonly RoomName[];
export type ReadRoom = (typeof readRooms)[number];

export const roomIdOf = (room: RoomName): string => idOf(`room ${room}`);

export const settingUpRooms = ({ write }: Pen): Line[] =>
  (Object.keys(rooms) as RoomName[]).map((room) => {
    const plan: RoomPlan = rooms[room];
    const racks = (plan.racks ?? []).map((rack) => ({ rackId: idOf(`rack ${rack.name}`), ...rack }));
    return write("Mon 09:00", "fern", "add-room", { roomId: roomIdOf(room), ...plan, racks });
  });
