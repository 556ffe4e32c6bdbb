/** A shop of four people on twenty devices, with a full floor, made over the wire as its members would. */
import { createHash, randomBytes } from "node:crypto";
import { callProcedure, newId, type Ruling, WireDevice } from "../support/wire-device";

const password = "walnut and shellac";
const [peopleCount, devicesEach] = [4, 5];
const [pieceCount, tasksPerPiece] = [40, 3];
const dayMs = 24 * 60 * 60 * 1000;

type Entered = { ok: true; value: Ruling } | { ok: false; refusal: unknown };

async function enter(site: string, procedure: string, input: object): Promise<void> {
  const entered = await callProcedure<Entered>(site, procedure, input);
  if (!entered.ok || entered.value.verdict === "refused") throw new Error(JSON.stringify(entered));
}

export type BenchShop = { devices: WireDevice[]; pieceIds: string[]; taskIds: string[] };

/** Founds the shop, lets its people in, hangs its pieces up and signs its devices in. */
export async function benchShop(site: string, founderCode: string): Promise<BenchShop> {
  const [shopId, boardId] = [newId(), newId()];
  const people = Array.from({ length: peopleCount }, (_, index) => ({
    signIn: { signInName: `person-${index + 1}`, password },
    arrival: { memberId: newId(), memberName: `Person ${index + 1}`, markLetter: "P", markOutline: "disc" },
  }));
  const [first, ...others] = people as [(typeof people)[0], ...typeof people];
  const place = { zone: "America/New_York", country: "US", currency: "USD" };
  const body = { shopId, name: "A bench and a lamp", ...place, boardId, boardName: "The floor", ...first.arrival };
  await enter(site, "account.found", { code: founderCode, shopId, ...first.signIn, intentId: newId(), body });
  const owner = await WireDevice.signIn(site, first.signIn);
  for (const { signIn, arrival } of others) {
    const secret = randomBytes(20).toString("base64url");
    const secretSha256 = createHash("sha256").update(secret).digest("hex");
    const invitation = { invitationId: newId(), role: "partner", forName: "Somebody", secretSha256 };
    await owner.send(["invite", { ...invitation, expiresAt: Date.now() + dayMs }]);
    await enter(site, "account.join", { secret, ...signIn, intentId: newId(), body: arrival });
  }
  const { pieceIds, taskIds } = await hangPieces(owner, boardId);
  const devices = [owner];
  while (devices.length < peopleCount * devicesEach) {
    const { signIn } = people[devices.length % peopleCount] as (typeof people)[0];
    devices.push(await WireDevice.signIn(site, signIn));
  }
  return { devices, pieceIds, taskIds };
}

async function hangPieces(owner: WireDevice, boardId: string): Promise<{ pieceIds: string[]; taskIds: string[] }> {
  const roomId = newId();
  const air = { usualCelsius: 20, usualHumidityPercent: 50 };
  await owner.send(["add-room", { roomId, name: "Spray room", uses: ["spray", "cure", "bench"], ...air }]);
  const [pieceIds, taskIds]: [string[], string[]] = [[], []];
  for (let number = 1; number <= pieceCount; number += 1) {
    const pieceId = newId();
    const surfaces = ["top", "body"].map((name) => ({ surfaceId: newId(), name, squareDecimetres: 80 }));
    const piece = { pieceId, number: `K-${number}`, boardId, name: "Oak dresser", kind: "dresser", roomId, surfaces };
    const tasks = Array.from({ length: tasksPerPiece }, () => newId());
    pieceIds.push(pieceId);
    taskIds.push(...tasks);
    await owner.send(
      ["add-piece", piece],
      ...tasks.map((taskId): [string, object] => [
        "add-task",
        { taskId, pieceId, title: "Glue a joint", sort: "repair" },
      ]),
    );
  }
  return { pieceIds, taskIds };
}
