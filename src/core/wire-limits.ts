/**
 * What may come over the socket, how much of it, and how fast: all limits of the sync server, each with its reason. An
 * honest device stays far below them, also after a week apart; where a number has no source beside it, it is common
 * practice for such servers.
 */

/** How much may come in the long run, and at once. */
export type Allowance = { perSecond: number; burst: number };

const kibi = 1024;
const mebi = 1024 * kibi;
const secondMs = 1000;

export const limits = {
  /** One message. The widest honest one, all that a piece's notes can hold, is well under half of it. */
  frameBytes: mebi,
  /** Browsers send a message in one fragment, programs in few; each costs an object until the last has come. */
  fragments: 64,
  /** What the network makes of a megabyte at 1.4 kB a packet is 750 parts, and 4,096 at 256 bytes. */
  bufferedChunks: 4096,

  /** Two texts of 100,000 characters together, each of 3 bytes (RFC 3629: the basic plane), and what holds them together. */
  updateBytes: 400 * kibi,
  /** A word typed without signal is about one; a whole evening is some thousands. Each costs about 200 bytes in memory. */
  updateStructs: 5000,
  /** One for each time that the notes were opened and written in while apart. */
  updateClients: 256,
  /** An answer names all that was ever struck out, so as many as there can be: what is struck together is one. */
  updateDeletes: 50_000,
  /** No device has a reason to tell the floor's server what the floor is; what it repeats is looked at up to here. */
  repeatedBytes: 64 * kibi,
  /** The longest text that two people would call notes: about fifty pages. */
  notesCharacters: 100_000,
  /** What was written and deleted leaves a struct behind; at 200 bytes each this is ten megabytes for one piece. */
  notesStructs: 50_000,
  /** No text of 100,000 characters is rewritten so often by one device that it gets here; and it is below 2³¹. */
  clock: 1_000_000_000,
  /** Steps that one update may take through what others wrote at the same place meanwhile; each takes up to 0.4 µs. */
  mergeSteps: 500_000,
  /** Two numbers for each client id that ever wrote in a document: thousands of loads of the floor. */
  stateVectorBytes: 64 * kibi,

  /** What one says of oneself: where one is looking. */
  presenceBytes: kibi,
  /** A browser's client repeats what it has heard of others: a full shop, twice over. */
  presences: 400,
  presenceFrameBytes: 64 * kibi,
  /** A UUID and a word before it. */
  lookingAtCharacters: 120,
  /** All that changed since the last beat is told at once, so that nobody hears more than four tellings a second. */
  beatMs: 250,
  /** Another server says again every 5 s who is there: after three times of silence nobody knows. */
  presenceSilentMs: 15 * secondMs,

  /** Typing makes ten frames a second; two hundred cover a burst of pasting and undoing. */
  framesOfConnection: { perSecond: 50, burst: 200 },
  /** A whole backlog at once, and then the pace of fast typing with room to spare. */
  bytesOfConnection: { perSecond: 256 * kibi, burst: 2 * mebi },
  /** Each is answered with a part of the document; a device asks once each time that it connects. */
  step1OfConnection: { perSecond: 1, burst: 5 },
  /** A shop of twenty who all type; beyond this those go who have sent most. */
  framesOfShop: { perSecond: 500, burst: 2000 },
  bytesOfShop: { perSecond: 2 * mebi, burst: 16 * mebi },
  /** So often a device may send what rests on something missing; each time it is asked for the rest. */
  gaps: 3,
  /** What may arrive while the room is loaded: an honest device sends two or three frames, and waits. */
  waitingFrames: 64,

  /** Over this a reader is behind: it hears no more changes until it has read, and then all of them as one. */
  behindBytes: mebi,
  /** Under this it has read. */
  caughtUpBytes: 64 * kibi,
  /** A backlog like this, or one that lasts, costs more than a new connection does. */
  backlogBytes: 4 * mebi,
  behindMs: 10 * secondMs,
  /** A whole document, which was asked for, may take as long as it takes over a poor line. */
  slowLineBytesPerSecond: 16 * kibi,
  /** Answers that are kept for the next device with the same question: after a restart all have much the same. */
  keptAnswers: 8,
  keptAnswerMs: 10 * secondMs,
  /** Updates in one flush: merging them costs the square of their number (measured: 2,000 take 0.2 s). */
  updatesPerFlush: 200,

  pingMs: 20 * secondMs,
  missedPongs: 2,
  /** The browser's client gives a line up after 30 s without a message, and does not count pings. */
  quietMs: 12 * secondMs,
  /** Who is told to go and does not is cut off after this. */
  closingMs: 5 * secondMs,

  socketsPerSession: 8,
  /** Phone, tablet and computer, each with as much open as it may. */
  socketsPerMember: 24,
  /** A shop of twenty with ten rooms open each. */
  socketsPerShop: 200,
  /** Behind a router or a proxy a whole shop has one address, and two may share it. */
  socketsPerAddress: 512,
  /** So many at once may wait for the database on their way in, and so long. */
  handshakes: 64,
  handshakeMs: 2 * secondMs,
  /** Strangers of one network are answered so often; after that the line is cut without a word. */
  strangersOfNetwork: { perSecond: 2, burst: 60 },
} as const;
