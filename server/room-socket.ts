import { WebSocket } from "ws";
import { closeCode } from "~/core/wire";

/** RFC 6455, 7.4.1: the message was too large. */
const messageTooBig = 1009;

/**
 * A socket whose refusals are final where they have to be. The library hangs up on a message that is too large with a code
 * after which browsers' clients come back with the same message, for ever.
 */
export class RoomSocket extends WebSocket {
  override close(code?: number, reason?: string | Buffer): void {
    super.close(code === messageTooBig ? closeCode.tooLarge : code, reason);
  }
}
