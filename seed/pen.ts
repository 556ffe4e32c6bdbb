/** What people of the invented shop do, each as the lines that it takes. */
import { derivedId } from "~/core/shop/derived-id";
import { type InstantMs, minuteMs } from "~/core/units";
import { airAt, type WeekAir } from "./air";
import { type CanName, canIdOf } from "./cans";
import type { Wall, WeekClock } from "./clock";
import { idOf } from "./names";
import { type Hand, hands, memberIdOf, type Person } from "./people";
import { type PieceNumber, pairIdOf, pieceIdOf, plannedCoatIdOf, surfaceIdOf, surfaceNamesOf } from "./pieces";
import { type ProductCode, sheetIdOf } from "./products";
import { type ReadRoom, type RoomName, roomIdOf } from "./rooms";
import { intentIdOf, type Line, type Write, writerOf } from "./script";

type When = Wall | InstantMs;
type Expect = Line["expect"];

type Coating = {
  /** Two words, `2 W1`: the place in the schedule and the product. */
  coat: string;
  room: RoomName;
  /** How long it took, up to the line's own time. */
  minutes: number;
  isScuffed?: boolean;
  /** All of the piece's unless said. */
  surfaces?: readonly string[];
  /** Out of which pot, where somebody said so. */
  can?: CanName;
  mix?: string;
  expect?: Expect;
};

type Mixing = { code: ProductCode; can: CanName; room: RoomName; millilitres: number };

type Gluing = { room: RoomName; task?: string; times?: number; expect?: Expect };

type TaskPlan = {
  piece?: PieceNumber;
  title: string;
  sort: "repair" | "prep" | "inspect" | "carry" | "other";
  methods?: readonly string[];
  needsSkills?: readonly string[];
  after?: readonly string[];
  waitsMin?: number;
  estimateMin?: number;
  dueAt?: InstantMs;
};

const mixIdOf = (mix: string): string => idOf(`mix ${mix}`);
export const taskIdOf = (task: string): string => idOf(`task ${task}`);
export const jointIdOf = (piece: PieceNumber, joint: string, times = 1): string =>
  idOf(`joint ${piece} ${joint} ${times}`);
export const promiseIdOf = (promise: string): string => idOf(`promise ${promise}`);
const coatLineName = (piece: PieceNumber, surface: string, coat: string) => `coat ${piece} ${surface} ${coat}`;
/** The rags of a coat are a task of the rule that took the coat; its third thing. */
const ragTaskIdOf = (lineName: string) => derivedId(intentIdOf(lineName), 3);

const inspectionName = (piece: PieceNumber) => `inspect the joints of ${piece}`;
/** What an inspection asks for are tasks of its rule: its tenth thing, and those after it. */
const inspectionTaskIdOf = (piece: PieceNumber, which: number) =>
  derivedId(intentIdOf(inspectionName(piece)), 10 + which);

const personOf = (hand: Hand): Person => hands[hand].person;

export class Pen {
  readonly write: Write;

  constructor(
    readonly clock: WeekClock,
    readonly air: WeekAir,
  ) {
    this.write = writerOf(clock);
  }

  /** A look at the thermometer of a room, with a touch of the piece where a product wants its surface known. */
  read(when: Wall, by: Hand, room: ReadRoom, isSurfaceMeasured = false): Line {
    const at = this.clock.at(when);
    const found = airAt(this.air[room], at);
    return this.write(when, by, "record-reading", {
      readingId: idOf(`reading ${room} ${at}`),
      roomId: roomIdOf(room),
      at,
      ...found,
      ...(isSurfaceMeasured && { surfaceCelsius: found.airCelsius }),
    });
  }

  coat(when: Wall, by: Hand, piece: PieceNumber, { coat, room, minutes, isScuffed = false, ...more }: Coating): Line[] {
    const endedAt = this.clock.at(when);
    return (more.surfaces ?? surfaceNamesOf(piece)).map((surface) => {
      const isDone = more.expect === undefined;
      const body = {
        coatId: plannedCoatIdOf(piece, surface, coat),
        startedAt: endedAt - minutes * minuteMs,
        endedAt,
        by: [memberIdOf(personOf(by))],
        roomId: roomIdOf(room),
        scuffedBefore: isScuffed,
        ...(more.can && { canIds: [canIdOf(more.can)] }),
        ...(more.mix && { mixId: mixIdOf(more.mix) }),
        stance: "asking",
      };
      const name = coatLineName(piece, surface, coat);
      return this.write(when, by, "log-coat", body, isDone ? { name } : { expect: more.expect });
    });
  }

  mix(when: Wall, by: Hand, mix: string, { code, can, room, millilitres }: Mixing): Line {
    const ids = { mixId: mixIdOf(mix), sheetId: sheetIdOf(code), canIds: [canIdOf(can)], roomId: roomIdOf(room) };
    return this.write(when, by, "log-mix", { ...ids, millilitres });
  }

  closeRags(
    when: Wall,
    by: Hand,
    piece: PieceNumber,
    coat: string,
    how: "flat-outdoors" | "water-can",
    surfaces: readonly string[] = surfaceNamesOf(piece),
  ): Line[] {
    return surfaces.map((surface) =>
      this.write(when, by, "close-out-rags", { taskId: ragTaskIdOf(coatLineName(piece, surface, coat)), how }),
    );
  }

  carry(when: Wall, by: Hand, piece: PieceNumber, room: RoomName, carried: "bearers" | "hands" = "bearers"): Line {
    const body = { pieceId: pieceIdOf(piece), roomId: roomIdOf(room), carried, stance: "asking" };
    return this.write(when, by, "move-room", body);
  }

  stage(when: When, by: Hand, piece: PieceNumber, from: string, to: string, expect: Expect = "accepted"): Line {
    const body = { pieceId: pieceIdOf(piece), fromStage: from, toStage: to };
    return this.write(when, by, "move-stage", body, { expect });
  }

  archive(when: Wall, by: Hand, piece: PieceNumber, why: string): Line {
    return this.write(when, by, "archive-piece", { pieceId: pieceIdOf(piece), how: "handed-over", why });
  }

  task(when: Wall, by: Hand, task: string, { piece, after = [], ...plan }: TaskPlan): Line {
    return this.write(when, by, "add-task", {
      taskId: taskIdOf(task),
      ...(piece && { pieceId: pieceIdOf(piece) }),
      after: after.map(taskIdOf),
      ...plan,
    });
  }

  claim(when: Wall, by: Hand, task: string, more: { expect?: Expect; arrivesAt?: InstantMs } = {}): Line {
    const claimId = idOf(`claim ${task} ${this.clock.monday} ${when} ${by}`);
    const body = { claimId, taskId: taskIdOf(task), memberIds: [memberIdOf(personOf(by))] };
    return this.write(when, by, "claim-task", body, more);
  }

  handOver(when: Wall, by: Hand, task: string, to: Person, note: string): Line {
    const claimId = idOf(`claim ${task} ${this.clock.monday} ${when} ${by} to ${to}`);
    const body = { taskId: taskIdOf(task), claimId, toMemberId: memberIdOf(to), note };
    return this.write(when, by, "hand-over-claim", body);
  }

  finish(when: Wall, by: Hand, task: string): Line {
    return this.write(when, by, "finish-task", { taskId: taskIdOf(task) });
  }

  reopen(when: Wall, by: Hand, task: string, cause: string): Line {
    return this.write(when, by, "reopen-task", { taskId: taskIdOf(task), cause });
  }

  /** The glue of the shop, squeezed in clamps. One joint glued again is another: then `times` tells them apart. */
  joint(when: Wall, by: Hand, piece: PieceNumber, joint: string, { room, ...more }: Gluing): Line {
    const body = {
      jointId: jointIdOf(piece, joint, more.times),
      pieceId: pieceIdOf(piece),
      name: joint,
      sheetId: sheetIdOf("G1"),
      roomId: roomIdOf(room),
      squeeze: "clamped",
      ...(more.task && { taskId: taskIdOf(more.task) }),
      stance: "asking",
    };
    return this.write(when, by, "log-joint", body, { expect: more.expect ?? "accepted" });
  }

  release(when: Wall, by: Hand, piece: PieceNumber, joint: string, times = 1): Line {
    return this.write(when, by, "release-joint", { jointId: jointIdOf(piece, joint, times), stance: "asking" });
  }

  inspect(when: Wall, by: Hand, piece: PieceNumber, joints: readonly string[]): Line {
    const jointIds = joints.map((joint) => jointIdOf(piece, joint));
    return this.write(when, by, "inspect-joints", { jointIds }, { name: inspectionName(piece) });
  }

  claimInspection(when: Wall, by: Hand, piece: PieceNumber, which: number): Line {
    const taskId = inspectionTaskIdOf(piece, which);
    const claimId = idOf(`claim ${taskId} ${by}`);
    return this.write(when, by, "claim-task", { claimId, taskId, memberIds: [memberIdOf(personOf(by))] });
  }

  press(when: When, by: Hand, piece: PieceNumber, spacer: "none" | "paper", expect: Expect = "accepted"): Line {
    return this.write(when, by, "press-together", { pairId: pairIdOf(piece), spacer, stance: "asking" }, { expect });
  }

  test(when: When, by: Hand, piece: PieceNumber, subject: object, kind: string, result: string, note?: string): Line {
    const testId = idOf(`test ${piece} ${kind} ${JSON.stringify(subject)} ${this.clock.monday} ${when}`);
    return this.write(when, by, "record-test", { testId, pieceId: pieceIdOf(piece), subject, kind, result, note });
  }

  surface(piece: PieceNumber, surface: string) {
    return { of: "surface", surfaceId: surfaceIdOf(piece, surface) };
  }
}
