/** Solves a square system of linear equations by elimination with row pivots; a singular direction gives 0. */
export function solve(matrix: readonly (readonly number[])[], right: readonly number[]): number[] {
  const n = right.length;
  const rows = matrix.map((row, i) => [...row, right[i] ?? 0]);
  for (let col = 0; col < n; col++) {
    let pivot = col;
    for (let r = col + 1; r < n; r++) {
      if (Math.abs(rows[r]?.[col] ?? 0) > Math.abs(rows[pivot]?.[col] ?? 0)) pivot = r;
    }
    const pivotRow = rows[pivot];
    const swapped = rows[col];
    if (!pivotRow || !swapped) continue;
    rows[pivot] = swapped;
    rows[col] = pivotRow;
    const head = pivotRow[col] ?? 0;
    if (Math.abs(head) < 1e-12) continue;
    for (let r = col + 1; r < n; r++) {
      const row = rows[r];
      if (!row) continue;
      const factor = (row[col] ?? 0) / head;
      for (let k = col; k <= n; k++) row[k] = (row[k] ?? 0) - factor * (pivotRow[k] ?? 0);
    }
  }
  const x = new Array<number>(n).fill(0);
  for (let r = n - 1; r >= 0; r--) {
    const row = rows[r];
    let sum = row?.[n] ?? 0;
    for (let k = r + 1; k < n; k++) sum -= (row?.[k] ?? 0) * (x[k] ?? 0);
    const head = row?.[r] ?? 0;
    x[r] = Math.abs(head) < 1e-12 ? 0 : sum / head;
  }
  return x;
}
