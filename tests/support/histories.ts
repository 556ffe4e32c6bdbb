/** Random histories of a small shop: steps that make intents, sensible and silly ones, out of what there is so far. */
import fc from "fast-check";
import { type Hand, minuteMs, newId, pieceBody, roomBody, type TestShop } from "./database";

/** Ids of what was asked for so far, made or refused; a step names one of them, or something that never was. */
type Named = Record<
  | "piece"
  | "surface"
  | "task"
  | "entry"
  | "room"
  | "product"
  | "sheet"
  | "glue"
  | "can"
  | "mix"
  | "coat"
  | "joint"
  | "test"
  | "word"
  | "promise",
  string[]
>;

export const step = fc.record({
  who: fc.nat({ max: 2 }),
  what: fc.nat({ max: 999 }),
  which: fc.nat({ max: 3 }),
  other: fc.nat({ max: 3 }),
  laterMin: fc.nat({ max: 120 }),
  amount: fc.nat({ max: 500 }),
});
type Step = typeof step extends fc.Arbitrary<infer Value> ? Value : never;

/** What was accepted and may be taken back by its maker. */
type Done = { intentId: string; hand: Hand };
type History = { shop: TestShop; hands: Hand[]; named: Named; done: Done[] };
type Moment = History & { s: Step; at: number; hand: Hand };

export const historyOf = (shop: TestShop, hands: Hand[]): History => ({
  shop,
  hands,
  done: [],
  named: {
    piece: [],
    surface: [],
    task: [],
    entry: [],
    room: [shop.roomId],
    product: [],
    sheet: [],
    glue: [],
    can: [],
    mix: [],
    coat: [],
    joint: [],
    test: [],
    word: [],
    promise: [],
  },
});

const made = (ids: string[], id = newId()): string => {
  ids.push(id);
  return id;
};
/** The latest few are named most: what is old is usually over. */
const one = (ids: string[], which: number): string => ids.at(-1 - which) ?? ids[0] ?? newId();
const oneOf = <Value>(values: readonly Value[], which: number) => values[which % values.length];

/** Of the last few of them, by whoever did it or, sometimes, by somebody else. */
function takingBack({ done, hand, s }: Moment, back: number): [kind: string, body: object, hand: Hand] {
  const found = done.at(-1 - back);
  return ["take-back", { intentId: found?.intentId ?? newId() }, s.amount % 5 && found ? found.hand : hand];
}

const makers: ((m: Moment) => [kind: string, body: object, hand?: Hand])[] = [
  ({ shop, named }) => {
    const body = pieceBody(shop, made(named.piece));
    for (const { surfaceId } of body.surfaces) named.surface.push(surfaceId);
    return ["add-piece", body];
  },
  ({ shop, named, s }) => [
    "add-piece",
    { ...pieceBody(shop, made(named.piece)), boardId: newId(), estimateMin: s.amount },
  ],
  ({ named, s }) => [
    "edit-piece",
    { pieceId: one(named.piece, s.which), field: "name", was: "Oak dresser", value: `No. ${s.amount}` },
  ],
  ({ named }) => ["add-task", { taskId: made(named.task), title: "Sweep", sort: "other" }],
  ({ named, s }) => [
    "add-task",
    {
      taskId: made(named.task),
      pieceId: one(named.piece, s.which),
      title: "Glue",
      sort: "prep",
      waitsMin: 1 + s.amount,
    },
  ],
  ({ named, s }) => [
    "add-task",
    { after: [one(named.task, s.other)], taskId: made(named.task), title: "Sand", sort: "prep" },
  ],
  ({ named, s, hand }) => [
    "claim-task",
    { claimId: newId(), taskId: one(named.task, s.which), memberIds: [hand.memberId] },
  ],
  ({ named, s, hand }) => [
    "claim-task",
    { claimId: newId(), taskId: one(named.task, s.other), memberIds: [hand.memberId] },
  ],
  ({ named, s, hands }) => [
    "hand-over-claim",
    { claimId: newId(), taskId: one(named.task, s.which), toMemberId: oneOf(hands, s.other)?.memberId },
  ],
  ({ named, s }) => [
    "release-task",
    { taskId: one(named.task, s.which), ...(s.amount % 2 ? { note: "back later" } : {}) },
  ],
  ({ named, s }) => ["end-claim", { taskId: one(named.task, s.which), why: "needed today" }],
  ({ named, s }) => ["finish-task", { taskId: one(named.task, s.which) }],
  ({ named, s }) => ["set-aside-task", { taskId: one(named.task, s.which), why: "not worth it" }],
  ({ named, s }) => ["reopen-task", { taskId: one(named.task, s.which), why: "it came loose" }],
  ({ named, s }) => {
    const subject = {
      pieceId: one(named.piece, s.which),
      ...(s.amount % 3 ? {} : { taskId: one(named.task, s.other) }),
    };
    return ["start-timer", { entryId: made(named.entry), workKind: "bench", subjects: s.amount % 2 ? [subject] : [] }];
  },
  ({ named, s }) => ["stop-timer", { entryId: one(named.entry, s.which), restMin: s.amount % 30 }],
  ({ named, s, hand, at }) => [
    "add-entry",
    {
      entryId: made(named.entry),
      memberId: hand.memberId,
      startedAt: at - (s.amount + 1) * minuteMs,
      endedAt: at,
      workKind: "van",
      subjects: [],
    },
  ],
  ({ named, s }) => [
    "correct-entry",
    { entryId: one(named.entry, s.which), restMin: s.amount % 40, why: "forgot the lunch" },
  ],
  ({ named }) => ["add-room", roomBody(made(named.room))],
  ({ named, s, at }) => [
    "record-reading",
    {
      readingId: newId(),
      roomId: one(named.room, s.which),
      at: at - s.other * minuteMs,
      airCelsius: s.amount / 10,
      humidityPercent: 1 + s.amount / 10,
    },
  ],
  ({ named, s, at }) => [
    "import-readings",
    {
      roomId: one(named.room, s.which),
      at: [300, 200, 100].map((back) => at - back * minuteMs),
      airTenths: [180, 181, 182],
      humidityTenths: [500, s.amount + 10, 510],
    },
  ],
  ({ named, s }) => [
    "move-room",
    {
      pieceId: one(named.piece, s.which),
      roomId: one(named.room, s.other),
      carried: "bearers",
      stance: s.amount % 2 ? "done" : "asking",
    },
  ],
  ({ named, s }) => [
    "move-stage",
    {
      pieceId: one(named.piece, s.which),
      fromStage: oneOf(["acquisition", "repair", "prep"], s.amount),
      toStage: oneOf(["repair", "prep", "finish"], s.other),
    },
  ],
  ({ named, s }) => [
    "set-pairs",
    {
      pairs: [
        {
          pairId: newId(),
          surfaceA: one(named.surface, s.which),
          surfaceB: one(named.surface, s.other),
          sort: "stacked",
        },
      ],
    },
  ],
  ({ named, s }) => [
    "add-product",
    {
      productId: made(named.product),
      sheetId: made(named.sheet),
      name: `Can ${s.amount}`,
      family: oneOf(["oil-varnish", "wax", "chalk-paint"], s.other),
    },
  ],
  ({ named, s }) => [
    "change-schedule",
    {
      surfaceId: one(named.surface, s.which),
      add: [{ sheetId: one(named.sheet, s.other), coatId: made(named.coat), position: 1 + (s.amount % 5) }],
    },
  ],
  ({ named, s, hand, at }) => [
    "log-coat",
    {
      coatId: one(named.coat, s.which),
      startedAt: at - 30 * minuteMs,
      endedAt: at,
      by: [hand.memberId],
      roomId: one(named.room, s.other),
      stance: "done",
    },
  ],
  ({ named, s, hand, at }) => [
    "log-coat",
    {
      surfaceId: one(named.surface, s.which),
      sheetId: one(named.sheet, s.other),
      coatId: made(named.coat),
      startedAt: at - 30 * minuteMs,
      endedAt: at,
      by: [hand.memberId],
      roomId: one(named.room, s.other),
      stance: "done",
    },
  ],
  ({ named, s }) => [
    "record-test",
    {
      testId: made(named.test),
      pieceId: one(named.piece, s.which),
      subject: { of: "paint-layer", layer: "top" },
      kind: "lead-swab",
      result: oneOf(["pass", "fail", "pending"], s.other),
    },
  ],
  ({ named, s, at }) => [
    "promise",
    {
      promiseId: made(named.promise),
      pieceId: one(named.piece, s.which),
      sort: "delivery",
      toWhom: "buyer",
      due: { at: at + (20 + s.amount) * 1440 * minuteMs },
    },
  ],
  ({ named, s, at }) => {
    const promiseId = one(named.promise, s.which);
    return [
      "move-promise",
      {
        promiseId,
        newPromiseId: made(named.promise),
        due: { at: at + (30 + s.amount) * 1440 * minuteMs },
        why: "rain",
      },
    ];
  },
  ({ named, s }) => [
    "add-can",
    {
      canId: made(named.can),
      productId: one(named.product, s.which),
      label: `C-${s.amount}`,
      filledMillilitres: 100 + s.amount,
      isLabelled: s.amount % 4 > 0,
    },
  ],
  ({ named, s }) => ["count-can", { canId: one(named.can, s.which), millilitres: s.amount }],
  ({ named, s }) => [
    "log-mix",
    {
      mixId: made(named.mix),
      sheetId: one(named.sheet, s.which),
      canIds: s.amount % 2 ? [one(named.can, s.other)] : [],
      millilitres: 1 + s.amount,
      roomId: one(named.room, s.other),
    },
  ],
  ({ named, s }) => {
    const glue = named.glue[0];
    if (glue === undefined)
      return ["add-product", { productId: newId(), sheetId: made(named.glue), name: "Glue", family: "glue" }];
    const joint = {
      jointId: made(named.joint),
      pieceId: one(named.piece, s.which),
      name: `joint ${s.amount}`,
      sheetId: glue,
      roomId: one(named.room, s.other),
      squeeze: "clamped",
      isStressed: s.amount % 2 === 0,
      stance: "done",
    };
    return ["log-joint", joint];
  },
  ({ named, s }) => ["release-joint", { jointId: one(named.joint, s.which), stance: "done" }],
  ({ named, s }) => ["inspect-joints", { jointIds: [one(named.joint, s.which)] }],
  ({ named, s }) => [
    "record-test",
    {
      testId: made(named.test),
      pieceId: one(named.piece, s.which),
      subject: { of: "joint", jointId: one(named.joint, s.other) },
      kind: "pull-or-tap",
      result: oneOf(["pass", "fail"], s.amount),
    },
  ],
  ({ named, s }) => [
    "record-test",
    {
      testId: made(named.test),
      pieceId: one(named.piece, s.which),
      subject: { of: "surface", surfaceId: one(named.surface, s.other) },
      kind: "thumb-twist",
      result: oneOf(["pass", "fail"], s.amount),
    },
  ],
  ({ named, s }) => ["confirm-test", { confirmationId: newId(), testId: one(named.test, s.which) }],
  ({ named, s }) => ["set-factor", { productId: one(named.product, s.which), isFactorOn: s.amount % 2 === 0 }],
  ({ named, s, at }) => [
    "override-gate",
    {
      wordId: made(named.word),
      pieceId: one(named.piece, s.which),
      action: "move",
      untilAt: at + (1 + s.amount) * minuteMs,
      why: "the buyer is at the door",
    },
  ],
  ({ named, s }) => ["withdraw-word", { wordId: one(named.word, s.which) }],
  ({ named, s }) => ["log-water", { pieceId: one(named.piece, s.which), surfaceIds: [one(named.surface, s.other)] }],
  ({ named, s, at }) => [
    "type-forecast",
    {
      forecastId: newId(),
      roomId: one(named.room, s.which),
      hours: [0, 1, 2].map((ahead) => ({
        fromAt: (Math.ceil(at / (60 * minuteMs)) + ahead) * 60 * minuteMs,
        lowCelsius: s.amount / 20,
        likelyCelsius: s.amount / 20 + 2,
        likelyHumidityPercent: 50,
        highHumidityPercent: 60,
      })),
    },
  ],
  ({ s }) => [
    "close-up",
    {
      closingId: newId(),
      answers: (["rags", "flames", "heater", "wipes", "cold-glue", "timers", "unsent"] as const).map((point) => ({
        point,
        answer: "clear",
      })),
      stance: s.amount % 2 ? "done" : "asking",
    },
  ],
  ({ named, s }) => ["treat-as-lead", { pieceId: one(named.piece, s.which), why: "old and flaking" }],
  ({ hands, s }) => ["change-role", { memberId: hands[2]?.memberId, role: s.amount % 2 ? "partner" : "helper" }],
  ({ s }) => ["set-shop", { key: "leaseMin", was: 4320, value: 1440 + s.amount }],
  ({ named, s }) => ["open-can", { canId: one(named.can, s.which) }],
  ({ named, s }) => ["log-wiped", { coatId: one(named.coat, s.which) }],
  ({ named, s }) => ["report-flaw", { coatId: one(named.coat, s.which), cause: oneOf(["run", "dust"], s.amount) }],
  ({ named, s }) => ["log-mend", { coatId: one(named.coat, s.which), mend: "sanded back" }],
  (m) => takingBack(m, 0),
  (m) => takingBack(m, m.s.which),
  (m) => takingBack(m, m.s.amount % 12),
  ({ named, s }) => ["archive-piece", { pieceId: one(named.piece, s.which), how: "used-for-parts", why: "woodworm" }],
];

/** The intent of one step, with whoever makes it. */
export function intentOfStep(history: History, s: Step, at: number): { hand: Hand; kind: string; body: object } {
  const hand = history.hands[s.who] as Hand;
  const maker = oneOf(makers, s.what) as (typeof makers)[number];
  const [kind, body, other] = maker({ ...history, s, at, hand });
  return { hand: other ?? hand, kind, body };
}
