import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import { parseTrace, type YardstickTrace } from './trace.ts';

/** Where the traces of all cases are kept. */
export const TRACE_FOLDER = join(import.meta.dirname, 'traces');

const fileOf = (id: string, folder: string): string => join(folder, `${id}.json.gz`);

/**
 * The kept trace of a case.
 * @throws Error when there is none, or the file is not a trace.
 */
export function readTrace(id: string, folder = TRACE_FOLDER): YardstickTrace {
  const file = fileOf(id, folder);
  if (!existsSync(file))
    throw new Error(`readTrace: there is no trace of ${id}; npm run yardstick makes it.`);
  return parseTrace(JSON.parse(gunzipSync(readFileSync(file)).toString('utf8')));
}

/** True when a trace of the case is kept, current or not. */
export function hasTrace(id: string, folder = TRACE_FOLDER): boolean {
  return existsSync(fileOf(id, folder));
}

/** Keeps a trace and gives the size of its file, bytes. */
export function writeTrace(trace: YardstickTrace, folder = TRACE_FOLDER): number {
  const file = fileOf(trace.id, folder);
  mkdirSync(dirname(file), { recursive: true });
  const content = gzipSync(JSON.stringify(trace), { level: 9 });
  writeFileSync(file, content);
  return content.length;
}
