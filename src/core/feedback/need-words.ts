import { dayOf } from '../plan/calendar.ts';
import type { TrainingDay } from '../plan/training-day.ts';
import type { Fault } from '../review/faults.ts';
import type { Need, NeedKind } from '../review/needs.ts';
import { dateWords } from './date-words.ts';
import { PLANNED_EXERCISE_WORDS } from './dose-words.ts';
import { flagWords } from './flag-words.ts';
import { figureWords, FORMS } from './measure-words.ts';
import { badDayWords } from './proposal-words.ts';
import { listWords, PLAN_QUESTION_WORDS, SESSION_QUESTION_WORDS } from './safety-words.ts';

/** What asks for a look, in a few words, as it stands in front of its sentence. */
export const NEED_WORDS: Readonly<Record<NeedKind, string>> = {
  'red-flag': 'Yes to a safety question',
  pain: 'Pain above the ceiling',
  'holds-wait': 'Holds wait for you',
  'days-off': 'No training',
  missed: 'Missed days',
  'hand-rose': 'Hand rose',
  'shoulder-led': 'Shoulder-led',
  noticed: 'Noticed',
  'low-share': 'Little measured',
  'may-advance': 'A decision waits',
  'not-signed': 'Not signed',
};

/** Dates beyond this are counted instead of named. */
const MOST_NAMED = 3;

/** Why somebody is to be looked at, in one sentence with its figures. */
export function needSentence(need: Need): string {
  switch (need.kind) {
    case 'red-flag':
      return `${need.days.slice(-MOST_NAMED).map(yesWords).join('; ')}${earlierWords(need.days.length)}. No session before you have decided. Make sure that they were seen.`;
    case 'pain':
      return `Pain on ${listWords(need.days.slice(-MOST_NAMED).map(badDayWords))}${earlierWords(need.days.length)}.`;
    case 'holds-wait':
      return need.clearance.mayStart
        ? 'Holds may start.'
        : `No hold starts before a decision about ${listWords(need.clearance.yes.map((question) => PLAN_QUESTION_WORDS[question].short))}.`;
    case 'days-off':
      return `No training for ${need.daysOff} days; from ${need.allowed} on the plan proposes the stage before.`;
    case 'missed': {
      const { monday, askedDays, doneDays } = need.week;
      return `In the week of ${dateWords(monday)}, ${doneDays} of ${askedDays} asked training ${askedDays === 1 ? 'day was' : 'days were'} done.`;
    }
    case 'hand-rose':
    case 'shoulder-led':
    case 'noticed':
    case 'low-share':
      return faultsSentence(need.faults);
    case 'may-advance':
      return `The plan’s rules propose to go on after ${need.goodDays} good training ${need.goodDays === 1 ? 'day' : 'days'} in a row. The decision is yours.`;
    case 'not-signed': {
      const { length } = need.sessions;
      return length === 1
        ? '1 session waits for your signature.'
        : `${length} sessions wait for your signature.`;
    }
  }
}

/** What was judged in one session, in one sentence. */
export function faultSentence(fault: Fault): string {
  return `${capitalised(faultWords(fault))}.`;
}

/** What the program judged in one session, a sentence each. A signature settles it, and it is shown all the same. */
export function judgedSentences(faults: readonly Fault[], isSigned: boolean): string[] {
  const before = isSigned ? 'As the program judged it, before the review: ' : '';
  return faults.map((fault) => `${before}${isSigned ? `${faultWords(fault)}.` : faultSentence(fault)}`);
}

function faultsSentence(faults: readonly Fault[]): string {
  const [newest, ...others] = faults;
  if (newest === undefined) return '';
  const more =
    others.length === 0
      ? ''
      : `, and in ${others.length} other ${others.length === 1 ? 'session' : 'sessions'}`;
  return `${capitalised(faultWords(newest))}, ${dateWords(dayOf(newest.startedAt))}${more}.`;
}

function faultWords({ kind, flag, exercise, sessionId, count, of }: Fault): string {
  const what = PLANNED_EXERCISE_WORDS[exercise].toLowerCase();
  const parts = exercise === 'hold' ? (sessionId === null ? 'sets' : 'holds') : 'repetitions';
  switch (kind) {
    case 'hand-rose':
      return `the hand rose in ${count} of ${of} ${parts}: the bar may have lifted`;
    case 'shoulder-led':
      return `${count} of ${of} judged repetitions of the ${what} were shoulder-led`;
    case 'low-share':
      return `only ${figureWords(of === 0 ? 0 : count / of, FORMS.share)} % of the ${what} was measured`;
    case 'noticed':
      return `${flag === null ? 'something' : flagWords(flag).therapist.toLowerCase()} in ${count} of ${of} ${parts} of the ${what}`;
  }
}

function yesWords({ startedAt, safetyYes }: TrainingDay): string {
  return `Answered yes on ${dateWords(dayOf(startedAt))}: ${listWords(safetyYes.map((question) => SESSION_QUESTION_WORDS[question].short))}`;
}

function earlierWords(count: number): string {
  return count > MOST_NAMED ? `; ${count - MOST_NAMED} more before` : '';
}

function capitalised(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
