import type { RecordProblem } from '../session/migrations.ts';
import type { StorageProblem } from '../stored.ts';

const STORAGE_SENTENCES: Readonly<Record<StorageProblem, string>> = {
  full: 'There is no room left for session records. Go on: nothing is lost while this page stays open. Download the record when you end, or delete old sessions to make room.',
  forbidden:
    'This browser lets the page keep nothing, as in a private window. You can measure, but download the record before you close the page, or open the page in a normal window.',
  'lost-connection':
    'The browser lost its store of session records. Go on: it is tried again. Download the record before you close the page if this message stays.',
  missing:
    'This session is no longer kept here: it was deleted, or the data of the browser were cleared. Download the record if it is still open.',
  'already-kept': 'This session is kept here already. Open it from the list of sessions.',
  unreadable: 'This session cannot be read any more. Open a downloaded copy if you have one.',
  other:
    'Session records cannot be kept at the moment. Go on: nothing is lost while this page stays open. Download the record before you close it.',
};

const PLAN_STORAGE_SENTENCES: Readonly<Record<StorageProblem, string>> = {
  full: 'There is no room left for plans and training days. Delete old sessions to make room, or download the plan before you close the page.',
  forbidden:
    'This browser lets the page keep nothing, as in a private window. Plans and training days are gone when you close it. Download what must last, or open the page in a normal window.',
  'lost-connection':
    'The browser lost its store of plans. Try again. Download the plan before you close the page if this message stays.',
  missing: 'This is no longer kept here: it was deleted, or the data of the browser were cleared.',
  'already-kept':
    'Another version of this plan is kept under the same number, and was not changed. Look at the list of versions.',
  unreadable: 'This plan cannot be read any more. Open a downloaded copy or its link if you have one.',
  other: 'Plans and training days cannot be kept at the moment. Download the plan before you close the page.',
};

const VIDEO_SENTENCES: Readonly<Record<StorageProblem | 'not-recorded', string>> = {
  full: 'There is no room left for the video, so it ends here. The measured record goes on. Delete videos you no longer need in Look back.',
  forbidden: 'This browser lets the page keep nothing, so there is no video. The measured record goes on.',
  'lost-connection': 'The browser lost its store, so the video ends here. The measured record goes on.',
  missing: 'This video is no longer kept here: it was deleted, or the data of the browser were cleared.',
  'already-kept': 'A video of this set is kept already.',
  unreadable: 'This video cannot be read. The measured record is not touched; the figure shows the set.',
  other: 'The video cannot be kept at the moment, so it ends here. The measured record goes on.',
  'not-recorded': 'This browser cannot record the video. The measured record goes on.',
};

/** What happened to the video of a set, and what to do about it. */
export function videoSentence(problem: StorageProblem | 'not-recorded'): string {
  return VIDEO_SENTENCES[problem];
}

/** What happened to the store of plans, training days and decisions, and what to do about it. */
export function planStorageSentence(problem: StorageProblem): string {
  return PLAN_STORAGE_SENTENCES[problem];
}

/** What happened to the store, and what to do about it. */
export function storageSentence(problem: StorageProblem): string {
  return STORAGE_SENTENCES[problem];
}

/** Why a file could not be opened as a session record, and what to do about it. */
export function recordSentence(problem: RecordProblem): string {
  switch (problem.kind) {
    case 'not-json':
      return 'This file is damaged or cut short and cannot be read. Get it again from where it came from.';
    case 'not-ours':
      return 'This file is not a session record. Choose a file whose name ends in .record.json.';
    case 'newer-version':
      return `This record was made by a newer version (record version ${problem.version}; up to ${problem.readableVersion} can be read here). Update this program and open the record again.`;
    case 'damaged':
      return `This record is damaged at "${problem.path}" and is not opened, because its figures could be wrong. Get it again from where it came from.`;
  }
}
