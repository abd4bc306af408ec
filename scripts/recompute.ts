/**
 * `npm run recompute -- RECORD.json ...`: works every set of the records out again from the stored landmarks and says
 * whether the stored judgement is the same. Ends with 1 when one differs or cannot be read, 2 without a record.
 */
import { readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { recordSentence } from '../src/core/feedback/storage-problems.ts';
import { recomputeSet } from '../src/core/session/build-session.ts';
import { differences } from '../src/core/session/differences.ts';
import { readRecord } from '../src/core/session/migrations.ts';
import { findingsOf } from '../src/core/session/session-record.ts';
import { summariseSet } from '../src/core/session/summary.ts';

/** More would bury the first ones, which tell most. */
const MOST_DIFFERENCES_SHOWN = 10;

/** Prints what became of a record; true when every set comes out the same. */
function recompute(path: string): boolean {
  const name = basename(path);
  const text = readText(path);
  if (text === null) {
    console.log(`${name}: There is no such file that can be read.`);
    return false;
  }
  const reading = readRecord(text);
  if (!reading.ok) {
    console.log(`${name}: ${recordSentence(reading.problem)}`);
    return false;
  }
  const { record } = reading;
  const results = record.sets.map((set, index) => {
    const { findings } = recomputeSet(record, index);
    const found = differences(findingsOf(set), findings);
    const { repetitions, partialRepetitions, holds, holdInRangeSeconds } = summariseSet(findings);
    const what = `${repetitions} repetitions, ${partialRepetitions} partial, ${holds} holds, ${holdInRangeSeconds.toFixed(1)} s in range`;
    console.log(
      `${name}, set ${index + 1}: ${found.length === 0 ? 'the same' : 'DIFFERENT'} (${set.frames.frameCount} frames: ${what})`,
    );
    for (const difference of found.slice(0, MOST_DIFFERENCES_SHOWN)) console.log(`  ${difference}`);
    if (found.length > MOST_DIFFERENCES_SHOWN)
      console.log(`  and ${found.length - MOST_DIFFERENCES_SHOWN} more`);
    return found.length === 0;
  });
  if (results.length === 0) console.log(`${name}: the record has no sets.`);
  return results.every(Boolean);
}

function readText(path: string): string | null {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return null;
  }
}

const paths = process.argv.slice(2);
if (paths.length === 0) {
  console.error('Name the records to work out again: npm run recompute -- RECORD.json ...');
  process.exitCode = 2;
} else {
  const same = paths.map(recompute);
  console.log(`${same.filter(Boolean).length} of ${same.length} records come out the same.`);
  process.exitCode = same.every(Boolean) ? 0 : 1;
}
