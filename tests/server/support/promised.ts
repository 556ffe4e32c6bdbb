/** A promise that is kept or broken from outside. */
export class Promised<Value> {
  keep: (value: Value) => void = () => undefined;
  break: (error: unknown) => void = () => undefined;
  readonly promise = new Promise<Value>((resolve, reject) => {
    this.keep = resolve;
    this.break = reject;
  });
}
