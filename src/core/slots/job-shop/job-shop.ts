/** The job shop: jobs whose steps go over machines in a fixed order; its published files, and as a slot instance. */
import { accept, type Result, refuse } from "~/core/result";
import type { SlotInstance, Unusable } from "../instance";
import type { Coat, SlotProblem } from "../problem";

export type Step = { machine: number; duration: number };
export type JobShop = { jobs: Step[][]; machineCount: number };

const unusable = (why: string): Result<never, Unusable> => refuse({ kind: "slots-unusable", ids: [], why });
const mostSteps = 10_000;

/**
 * Reads the usual layout: a line with the numbers of jobs and machines, then for each job its pairs of machine (from 0)
 * and duration. Lines that begin with `#` and words are passed over; Taillard's layout (the times of all jobs, then
 * their machines from 1) is read as well.
 */
export function parseJobShop(text: string): Result<JobShop, Unusable> {
  const rows = text
    .split(/\r?\n/)
    .filter((line) => /^\s*\d[\d\s]*$/.test(line))
    .map((line) => line.trim().split(/\s+/).map(Number));
  const [head, ...body] = rows;
  const [jobCount, machineCount] = [head?.[0] ?? 0, head?.[1] ?? 0];
  if (jobCount < 1 || machineCount < 1)
    return unusable("The first line should say how many jobs and machines there are.");
  if (jobCount * machineCount > mostSteps)
    return unusable(`More than ${mostSteps} steps are more than is planned at once.`);
  const numbers = body.slice(0, 2 * jobCount).map((row) => row.length);
  const isTaillard = numbers.length === 2 * jobCount && numbers.every((length) => length === machineCount);
  if (!isTaillard && body.length < jobCount)
    return unusable(`${jobCount} jobs are announced, ${body.length} lines follow.`);
  const jobs = Array.from({ length: jobCount }, (_, job): Step[] => {
    if (isTaillard)
      return (body[job] as number[]).map((duration, index) => ({
        machine: ((body[jobCount + job] as number[])[index] as number) - 1,
        duration,
      }));
    const row = body[job] as number[];
    return Array.from({ length: Math.floor(row.length / 2) }, (_, index) => ({
      machine: row[2 * index] as number,
      duration: row[2 * index + 1] as number,
    }));
  });
  for (const [index, job] of jobs.entries()) {
    if (!job.length) return unusable(`Job ${index} has no steps.`);
    const bad = job.find(({ machine, duration }) => machine < 0 || machine >= machineCount || duration < 1);
    if (bad)
      return unusable(`Job ${index}: machine ${bad.machine} for ${bad.duration} cannot be; machines count from 0.`);
  }
  return accept({ jobs, machineCount });
}

/** Each machine a booth with a person of its own, each job a piece, each step a coat; the makespan is the third level. */
export function jobShopInstance(name: string, { jobs, machineCount }: JobShop, isOpen = false): SlotInstance {
  const horizon = Math.max(
    1,
    jobs.flat().reduce((sum, { duration }) => sum + duration, 0),
  );
  const machines = Array.from({ length: machineCount }, (_, machine) => machine);
  const always: [number, number][] = [[0, horizon]];
  const coatOf = (job: number, step: number, { machine, duration }: Step) => ({
    id: `j${job}.${step}`,
    product: "any",
    work: duration,
    skill: `m${machine}`,
    booths: [`M${machine}`],
  });
  return {
    format: "spray-slots/1",
    name,
    grainMinutes: 5,
    dayLength: horizon,
    now: 0,
    horizon,
    booths: machines.map((machine) => ({ id: `M${machine}`, open: always })),
    people: machines.map((machine) => ({ id: `W${machine}`, skills: [`m${machine}`], available: always })),
    products: [{ id: "any" }],
    changeover: { between: {} },
    pieces: jobs.map((steps, job) => {
      const coats = steps.map((step, index) => coatOf(job, index, step));
      const surfaces = isOpen
        ? coats.map((coat, index) => ({ id: `s${index}`, cure: 0, coats: [coat] }))
        : [{ id: "s", cure: 0, coats }];
      return { id: `j${job}`, ready: 0, due: horizon, weight: 0, surfaces };
    }),
  };
}

/** A week that is a job shop, or an open shop, in other words (nothing in it but order, booths and the makespan), or null. */
export function asJobShop(problem: SlotProblem): { shop: JobShop; coats: Coat[]; isOpen: boolean } | null {
  const { pieces, booths, horizon, rackCapacity, dailyVoc, longestChangeover } = problem;
  const isPlain = (coat: Coat) =>
    coat.booths.length === 1 &&
    coat.people.length >= 1 &&
    coat.work === coat.length &&
    coat.minLag === 0 &&
    coat.maxLag === Number.POSITIVE_INFINITY &&
    !coat.lock &&
    coat.earliest === 0;
  const isOpenThroughout = ({ from, to }: { from: number; to: number }) => from === 0 && to >= horizon;
  const area = pieces.reduce((sum, { rackArea }) => sum + rackArea, 0);
  const grams = problem.coats.reduce((sum, { voc }) => sum + voc, 0);
  if (!pieces.length || longestChangeover > 0 || area > rackCapacity || grams > dailyVoc) return null;
  const isTimeless = pieces.every(({ surfaces, due }) => due >= horizon && surfaces.every(({ cure }) => cure === 0));
  const isClosed = pieces.every(({ surfaces }) => surfaces.length === 1);
  const isOpen = problem.coats.every(({ waitsFor }) => waitsFor.length === 0);
  if (!isTimeless || !(isClosed || isOpen)) return null;
  if (!problem.coats.every(isPlain)) return null;
  const calendars = [...booths.map(({ openings }) => openings), ...problem.people.map(({ shifts }) => shifts)];
  if (!calendars.every((spans) => spans.length === 1 && spans.every(isOpenThroughout))) return null;
  // the person of a machine must serve no other machine
  const personOf = new Map<number, number>();
  for (const {
    booths: [booth],
    people: [person],
  } of problem.coats) {
    if (!booth || !person || (personOf.get(booth.index) ?? person.index) !== person.index) return null;
    personOf.set(booth.index, person.index);
  }
  if (new Set(personOf.values()).size !== personOf.size) return null;
  const jobs = pieces.map(({ coats }) =>
    coats.map(({ booths: [booth], work }) => ({ machine: booth?.index ?? 0, duration: work })),
  );
  const total = problem.coats.reduce((sum, { work }) => sum + work, 0);
  return total <= horizon
    ? { shop: { jobs, machineCount: booths.length }, coats: problem.coats, isOpen: !isClosed }
    : null;
}
