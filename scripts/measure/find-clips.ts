import { readdir, stat } from 'node:fs/promises';
import { basename, extname, join } from 'node:path';

const ENDINGS = new Set(['.mp4', '.mov', '.m4v', '.webm', '.mkv']);

/** A clip and the name under which its results are written. */
export interface ClipFile {
  readonly path: string;
  /** File name with its ending. */
  readonly file: string;
  /** Without the ending, unless two clips would then be called the same. */
  readonly name: string;
}

/** The clips to be measured, or a sentence about why there are none. */
export async function findClips(input: string): Promise<readonly ClipFile[] | string> {
  const found = await stat(input).catch(() => null);
  if (found === null) return `There is no "${input}".`;
  if (!found.isDirectory()) return nameClips([input]);
  const entries = await readdir(input, { withFileTypes: true });
  const paths = entries
    .filter((entry) => !entry.isDirectory() && !entry.name.startsWith('.'))
    .map((entry) => entry.name)
    .filter((name) => ENDINGS.has(extname(name).toLowerCase()))
    .sort()
    .map((name) => join(input, name));
  return paths.length === 0 ? `"${input}" holds no clip (${[...ENDINGS].join(' ')}).` : nameClips(paths);
}

/** Names by file name without ending; with the ending where that would not tell two apart, on any file system. */
export function nameClips(paths: readonly string[]): readonly ClipFile[] {
  const stems = paths.map((path) => basename(path, extname(path)));
  const taken = new Set<string>();
  return paths.map((path, index) => {
    const stem = stems[index] ?? '';
    const isShared = stems.filter((other) => other.toLowerCase() === stem.toLowerCase()).length > 1;
    let name = isShared ? `${stem}-${extname(path).slice(1)}` : stem;
    while (taken.has(name.toLowerCase())) name = `${name}-2`;
    taken.add(name.toLowerCase());
    return { path, file: basename(path), name };
  });
}
