/** What whoever watches over the processes may ask one of them, by path. */
import { aliveHandler, checksOf, migrationsIn, readinessOf, readyHandler } from "./health";
import type { Handler } from "./http";
import type { Hub } from "./hub";
import { metricsHandler } from "./metrics/endpoint";
import { figures } from "./metrics/figures";
import { hubGauges, processGauges } from "./metrics/gauges";

type Watched = {
  hub: Hub;
  migrationsFolder: string;
  dataFolder: string;
  metricsToken?: string;
  isServing: () => boolean;
  report: (error: unknown) => void;
};

export function watchHandlers(watched: Watched): Record<string, Handler> {
  const { hub, migrationsFolder, dataFolder, metricsToken: token, isServing, report } = watched;
  const migrations = migrationsIn(migrationsFolder);
  const checks = checksOf({ migrations, dataFolder, draining: () => !isServing() });
  const instruments = [...figures.instruments, ...hubGauges(hub), ...processGauges()];
  return {
    "/healthz": aliveHandler,
    "/readyz": readyHandler(readinessOf(checks)),
    "/metrics": metricsHandler(instruments, { token, report }),
  };
}
