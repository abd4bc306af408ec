import type { Bounds, Field } from './fields.ts';

export interface MeshData {
  readonly positions: Float32Array;
  readonly normals: Float32Array;
  readonly indices: Uint32Array;
}

/** Cells per side of the blocks that are skipped when the surface is far. */
const BLOCK = 4;

/**
 * Mesh of a field's zero surface by naive surface nets (S. F. F. Gibson, MICCAI 1998) over a sparse grid: blocks whose
 * centre is further from the surface than they are large are never sampled. Vertices are then moved onto the field
 * along its gradient, which is also the normal.
 */
export function meshField(field: Field, bounds: Bounds, cellM: number): MeshData {
  const grid = createGrid(field, bounds, cellM);
  const positions: number[] = [];
  const normals: number[] = [];
  const cells: number[] = [];
  forEachNearCell(grid, (i, j, k) => {
    const vertex = cellVertex(grid, i, j, k);
    if (vertex === null) return;
    grid.vertexOfCell[cellIndex(grid, i, j, k)] = positions.length / 3;
    cells.push(i, j, k);
    pushOntoSurface(field, vertex, cellM, positions, normals);
  });
  return {
    positions: Float32Array.from(positions),
    normals: Float32Array.from(normals),
    indices: Uint32Array.from(quads(grid, cells)),
  };
}

interface Grid {
  readonly field: Field;
  readonly low: readonly [number, number, number];
  readonly cellM: number;
  /** Cells along each axis. */
  readonly nx: number;
  readonly ny: number;
  readonly nz: number;
  /** Field at the corners, NaN where not asked for yet. */
  readonly samples: Float32Array;
  /** Vertex number of a cell, -1 without one. */
  readonly vertexOfCell: Int32Array;
}

function createGrid(field: Field, bounds: Bounds, cellM: number): Grid {
  const count = (axis: 0 | 1 | 2) =>
    Math.ceil((bounds.high[axis] - bounds.low[axis]) / cellM / BLOCK + 0.5) * BLOCK;
  const [nx, ny, nz] = [count(0), count(1), count(2)];
  return {
    field,
    low: bounds.low,
    cellM,
    nx,
    ny,
    nz,
    samples: new Float32Array((nx + 1) * (ny + 1) * (nz + 1)).fill(NaN),
    vertexOfCell: new Int32Array(nx * ny * nz).fill(-1),
  };
}

const cellIndex = (grid: Grid, i: number, j: number, k: number): number => (k * grid.ny + j) * grid.nx + i;

function sample(grid: Grid, i: number, j: number, k: number): number {
  const index = (k * (grid.ny + 1) + j) * (grid.nx + 1) + i;
  const known = grid.samples[index] ?? NaN;
  if (!Number.isNaN(known)) return known;
  const { low, cellM } = grid;
  const value = grid.field(low[0] + i * cellM, low[1] + j * cellM, low[2] + k * cellM);
  grid.samples[index] = value;
  return value;
}

function forEachNearCell(grid: Grid, visit: (i: number, j: number, k: number) => void): void {
  const { low, cellM } = grid;
  const half = (BLOCK / 2) * cellM;
  // Half the block's diagonal and a cell more, because smooth unions are not exact distances.
  const reach = half * Math.sqrt(3) + cellM;
  for (let bk = 0; bk < grid.nz; bk += BLOCK) {
    for (let bj = 0; bj < grid.ny; bj += BLOCK) {
      for (let bi = 0; bi < grid.nx; bi += BLOCK) {
        const [x, y, z] = [
          low[0] + bi * cellM + half,
          low[1] + bj * cellM + half,
          low[2] + bk * cellM + half,
        ];
        if (Math.abs(grid.field(x, y, z)) > reach) continue;
        for (let k = bk; k < bk + BLOCK; k++)
          for (let j = bj; j < bj + BLOCK; j++) for (let i = bi; i < bi + BLOCK; i++) visit(i, j, k);
      }
    }
  }
}

/** Corners of a cell: bit 0 along x, bit 1 along y, bit 2 along z. */
const EDGES = [0, 1, 2, 3, 4, 5, 6, 7, 0, 2, 1, 3, 4, 6, 5, 7, 0, 4, 1, 5, 2, 6, 3, 7];
const corner = new Float64Array(8);

/** Mean of the edge crossings of a cell, in metres; null when the surface does not pass. */
function cellVertex(grid: Grid, i: number, j: number, k: number): [number, number, number] | null {
  let inside = 0;
  for (let c = 0; c < 8; c++) {
    const value = sample(grid, i + (c & 1), j + ((c >> 1) & 1), k + (c >> 2));
    corner[c] = value;
    if (value < 0) inside++;
  }
  if (inside === 0 || inside === 8) return null;
  let [x, y, z, crossings] = [0, 0, 0, 0];
  for (let e = 0; e < EDGES.length; e += 2) {
    const [a, b] = [EDGES[e] ?? 0, EDGES[e + 1] ?? 0];
    const [da, db] = [corner[a] ?? 0, corner[b] ?? 0];
    if (da < 0 === db < 0) continue;
    const share = da / (da - db);
    x += (a & 1) + share * ((b & 1) - (a & 1));
    y += ((a >> 1) & 1) + share * (((b >> 1) & 1) - ((a >> 1) & 1));
    z += (a >> 2) + share * ((b >> 2) - (a >> 2));
    crossings++;
  }
  const { low, cellM } = grid;
  return [
    low[0] + (i + x / crossings) * cellM,
    low[1] + (j + y / crossings) * cellM,
    low[2] + (k + z / crossings) * cellM,
  ];
}

/** Four samples at the corners of a small tetrahedron give both the gradient and the distance in the middle. */
function pushOntoSurface(
  field: Field,
  [x, y, z]: [number, number, number],
  cellM: number,
  positions: number[],
  normals: number[],
): void {
  const h = 0.25 * cellM;
  const a = field(x + h, y - h, z - h);
  const b = field(x - h, y - h, z + h);
  const c = field(x - h, y + h, z - h);
  const d = field(x + h, y + h, z + h);
  const [gx, gy, gz] = [a - b - c + d, -a - b + c + d, -a + b - c + d];
  const size = Math.hypot(gx, gy, gz) || 1;
  // The gradient's own size corrects fields that are flatter than a distance.
  const steepness = Math.max(0.4, size / (4 * h));
  const step = Math.max(-cellM, Math.min(cellM, (a + b + c + d) / 4 / steepness));
  positions.push(x - (gx / size) * step, y - (gy / size) * step, z - (gz / size) * step);
  normals.push(gx / size, gy / size, gz / size);
}

/** A quad across each grid edge that the surface crosses, as two triangles facing outward. */
function quads(grid: Grid, cells: readonly number[]): number[] {
  const indices: number[] = [];
  const vertexAt = (i: number, j: number, k: number): number =>
    grid.vertexOfCell[cellIndex(grid, i, j, k)] ?? -1;
  for (let n = 0; n < cells.length; n += 3) {
    const [i, j, k] = [cells[n] ?? 0, cells[n + 1] ?? 0, cells[n + 2] ?? 0];
    const here = sample(grid, i, j, k) < 0;
    const own = vertexAt(i, j, k);
    const join = (outward: boolean, b: number, c: number, d: number): void => {
      if (b < 0 || c < 0 || d < 0) return;
      if (outward) indices.push(own, b, c, own, c, d);
      else indices.push(own, c, b, own, d, c);
    };
    if (j > 0 && k > 0 && here !== sample(grid, i + 1, j, k) < 0)
      join(here, vertexAt(i, j - 1, k), vertexAt(i, j - 1, k - 1), vertexAt(i, j, k - 1));
    if (i > 0 && k > 0 && here !== sample(grid, i, j + 1, k) < 0)
      join(here, vertexAt(i, j, k - 1), vertexAt(i - 1, j, k - 1), vertexAt(i - 1, j, k));
    if (i > 0 && j > 0 && here !== sample(grid, i, j, k + 1) < 0)
      join(here, vertexAt(i - 1, j, k), vertexAt(i - 1, j - 1, k), vertexAt(i, j - 1, k));
  }
  return indices;
}
