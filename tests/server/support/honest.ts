import type { Hand } from "../../support/database";
import { newId, pieceBody, type TestShop } from "../../support/database";
import type { Phone } from "./phone";
import type { ShopServer } from "./shop-server";

/** Two members at work, whatever somebody else does meanwhile: what one of them does must reach the other. */
export class Honest {
  private words = 0;

  private constructor(
    private readonly server: ShopServer,
    private readonly shop: TestShop,
    private readonly writer: Phone,
    private readonly reader: Phone,
    private readonly floor: Phone,
  ) {}

  static async start(server: ShopServer, shop: TestShop, other: Hand, pieceId: string): Promise<Honest> {
    const [writer, reader] = [await server.notes(shop.owner, pieceId), await server.notes(other, pieceId)];
    return new Honest(server, shop, writer, reader, await server.floor(other));
  }

  get text(): string {
    return this.reader.doc.getText("journal").toString();
  }

  /** Words in the notes and a piece on the floor: both arrive. */
  async goOn(): Promise<true> {
    this.server.now += 1000;
    this.words += 1;
    const words = `<${this.words}>`;
    this.writer.doc.getText("journal").insert(0, words);
    const before = this.floor.rows("piece").length;
    await this.server.accepted(this.shop.owner, ["add-piece", pieceBody(this.shop, newId())]);
    await this.reader.until(() => this.reader.isOver || this.text.startsWith(words));
    await this.floor.until(() => this.floor.isOver || this.floor.rows("piece").length > before);
    const codes = [this.writer, this.reader, this.floor].flatMap(({ closeCode }) => closeCode ?? []);
    if (codes.length > 0) throw new Error(`an honest device was hung up on: ${codes}`);
    return true;
  }

  /** Goes on while an attack lasts, and after it. */
  async during(attack: Promise<unknown>): Promise<true> {
    await this.goOn();
    await attack;
    return this.goOn();
  }

  leave(): void {
    for (const phone of [this.writer, this.reader, this.floor]) phone.leave();
  }
}
