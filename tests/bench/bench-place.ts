/** A shop for the benches, made in the database itself: its seats, and as many pieces as are asked for. */
import { notesRoom } from "~/core/wire";
import { database } from "~/data/db";
import { ShopServer } from "../server/support/shop-server";
import { freshShop, type Hand, handOf, joined, newId, pieceBody, type TestShop } from "../support/database";

const members = 4;
const devicesEach = 5;

export type BenchSeat = { hand: Hand; cookie: string };

export class BenchPlace {
  private pieceIds: string[] = [];

  private constructor(
    readonly shop: TestShop,
    readonly seats: readonly BenchSeat[],
    private readonly firstPiece: string,
  ) {}

  /** Four members, each signed in on five devices, and a floor with as many pieces. */
  static async open(pieces = 1): Promise<BenchPlace> {
    const server = await ShopServer.start();
    server.now = Date.now();
    const shop = await freshShop();
    const people = [shop.owner];
    while (people.length < members) people.push(await joined(shop, "partner"));
    const seats: BenchSeat[] = [];
    for (let device = 0; device < devicesEach; device += 1) {
      for (const { shopId, memberId } of people) {
        const hand = await handOf(shopId, memberId);
        seats.push({ hand, cookie: await server.signIn(hand) });
      }
    }
    const made = Array.from({ length: pieces }, () => pieceBody(shop));
    for (const piece of made) await server.accepted((seats[0] as BenchSeat).hand, ["add-piece", piece]);
    await server.stop();
    return new BenchPlace(shop, seats, made[0]?.pieceId as string);
  }

  get shopId(): string {
    return this.shop.shopId;
  }

  seat = (number: number): BenchSeat => this.seats[number % this.seats.length] as BenchSeat;

  /** The rooms of so many pieces in whose notes nobody has written. */
  async freshNotes(count: number): Promise<string[]> {
    if (this.pieceIds.length < count) await this.hangPieces(Math.max(count, 500));
    return this.pieceIds.splice(0, count).map((pieceId) => notesRoom(this.shopId, pieceId));
  }

  private async hangPieces(count: number): Promise<void> {
    const ids = Array.from({ length: count }, () => newId());
    await database().$executeRaw`
      INSERT INTO "piece" SELECT (jsonb_populate_record(p, jsonb_build_object(
        'id', fresh.id, 'number', 'B-' || fresh.id, 'archivedAt', 1))).*
      FROM "piece" p, unnest(${ids}::uuid[]) AS fresh(id) WHERE p."id" = ${this.firstPiece}::uuid`;
    this.pieceIds.push(...ids);
  }
}
