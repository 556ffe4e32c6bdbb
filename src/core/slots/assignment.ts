/** The cheapest way to give every row a column of its own; the Hungarian method with potentials, n³. */
export function cheapestAssignment(costs: number[][]): number {
  const size = costs.length;
  const rowPotential = new Float64Array(size + 1);
  const columnPotential = new Float64Array(size + 1);
  const rowOfColumn = new Int32Array(size + 1);
  const cameFrom = new Int32Array(size + 1);
  for (let row = 1; row <= size; row++) {
    rowOfColumn[0] = row;
    const slack = new Float64Array(size + 1).fill(Number.POSITIVE_INFINITY);
    const isDone = new Uint8Array(size + 1);
    let column = 0;
    while (rowOfColumn[column] !== 0) {
      isDone[column] = 1;
      const current = rowOfColumn[column] as number;
      let least = Number.POSITIVE_INFINITY;
      let next = 0;
      for (let other = 1; other <= size; other++) {
        if (isDone[other]) continue;
        const cost = (costs[current - 1] as number[])[other - 1] as number;
        const reduced = cost - (rowPotential[current] as number) - (columnPotential[other] as number);
        if (reduced < (slack[other] as number)) {
          slack[other] = reduced;
          cameFrom[other] = column;
        }
        if ((slack[other] as number) < least) {
          least = slack[other] as number;
          next = other;
        }
      }
      for (let other = 0; other <= size; other++) {
        if (isDone[other]) {
          const taken = rowOfColumn[other] as number;
          rowPotential[taken] = (rowPotential[taken] as number) + least;
          columnPotential[other] = (columnPotential[other] as number) - least;
        } else slack[other] = (slack[other] as number) - least;
      }
      column = next;
    }
    while (column !== 0) {
      const before = cameFrom[column] as number;
      rowOfColumn[column] = rowOfColumn[before] as number;
      column = before;
    }
  }
  let sum = 0;
  for (let column = 1; column <= size; column++)
    sum += (costs[(rowOfColumn[column] as number) - 1] as number[])[column - 1] as number;
  return sum;
}
