import type { InstantMs } from "../units";
import { type Asked, earnedTo, type RoomCredit, type Track } from "./room-credit";

type MinutesByTrack = Partial<Record<Track, number>>;

/**
 * A time in one room, and what it is worth to what hardens there. Films of one sheet on one piece share the legs that all of
 * them were through, so each is summed up once a moment.
 */
export class Leg {
  /** What the room had earned when the leg began, and what the leg has earned of it by its end or the instant of asking. */
  private readonly before: MinutesByTrack = {};
  private readonly known: MinutesByTrack = {};

  constructor(
    readonly fromAt: InstantMs,
    readonly toAt: InstantMs,
    readonly credit: RoomCredit,
    private readonly asked: Asked,
  ) {}

  beforeMin(track: Track): number {
    const kept = this.before[track] ?? earnedTo(this.credit, track, this.fromAt, this.asked);
    this.before[track] = kept;
    return kept;
  }

  /** Minutes at the sheet's reference that the leg earns to an instant in it. */
  minutesTo(track: Track, at: InstantMs): number {
    if (at !== Math.min(this.toAt, this.asked.at)) return this.earnedMin(track, at);
    const kept = this.known[track] ?? this.earnedMin(track, at);
    this.known[track] = kept;
    return kept;
  }

  private earnedMin(track: Track, at: InstantMs) {
    return earnedTo(this.credit, track, at, this.asked) - this.beforeMin(track);
  }
}
