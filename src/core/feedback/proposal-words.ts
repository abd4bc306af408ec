import type { ProposalReason } from '../plan/decision.ts';
import { dayOf } from '../plan/calendar.ts';
import { nextMorningCeiling, painCeiling, worstPain } from '../plan/pain.ts';
import type { Shortfall, WeighedDay } from '../plan/weigh-day.ts';
import type { HoldClearance } from '../plan/may-start.ts';
import type { Ground } from '../plan/weigh-plan.ts';
import { ceilingReachedSentences } from './loads-words.ts';
import { HARDEST_WORDS } from './answer-words.ts';
import { dateWords } from './date-words.ts';
import { figureWords, FORMS } from './measure-words.ts';
import { listWords, PLAN_QUESTION_WORDS, SESSION_QUESTION_WORDS } from './safety-words.ts';
import { limitSource, trendName } from './trend-words.ts';

/** The source of every threshold that the plan itself holds. */
const SET_BY_THERAPIST = 'set by the therapist';
const PRACTICE = 'common practice, no source';
const RED_FLAGS =
  'signs of a torn tendon: Morrey’s criteria; O’Driscoll et al. 2007, Am J Sports Med 35:1865-69; the others common practice, no source';

/** What a hand that rose means where the bar is not described. */
const CEILING_WITHOUT_BAR =
  'The ceiling of that grip was reached. Less effort stays below it; a grip nearer the middle, a heavier bar, one that is held down or one hand instead of two raise it. Which of these, if any, is your decision.';

/** Dates beyond this are counted instead of named. */
const MOST_NAMED = 4;
/** What the schema of a reason keeps at most. */
const MOST_DAYS = 200;
const LONGEST_SENTENCE = 600;

/** One thing that a proposal rests on, as a sentence with its numbers, its source and its days. */
export function groundReason(ground: Ground): ProposalReason {
  const { sentence, source, days, reader } = saidOf(ground);
  return {
    sentence: sentence.length > LONGEST_SENTENCE ? `${sentence.slice(0, LONGEST_SENTENCE - 1)}…` : sentence,
    source,
    dayIds: (days ?? []).slice(-MOST_DAYS).map(({ day }) => day.id),
    reader: reader ?? 'everyone',
  };
}

interface Said {
  readonly sentence: string;
  readonly source: string;
  readonly days?: readonly WeighedDay[];
  readonly reader?: ProposalReason['reader'];
}

function saidOf(ground: Ground): Said {
  switch (ground.kind) {
    case 'red-flags':
      return { sentence: redFlagSentence(ground.days), source: RED_FLAGS, days: ground.days };
    case 'bad-days':
      return {
        sentence: `Pain was above the ceiling on ${countWords(ground.days.length, 'training day')} in a row: ${listWords(ground.days.map(badDayWords))}. From ${ground.needed} in a row on, the stage before is proposed.`,
        source: SET_BY_THERAPIST,
        days: ground.days,
      };
    case 'days-off': {
      const since = ground.since ? `, since ${dateWords(dayOf(ground.since.startedAt))}` : '';
      return {
        sentence: `No training for ${countWords(ground.daysOff, 'day')}${since}. From ${countWords(ground.allowed, 'day')} off on, the stage before is proposed.`,
        source: SET_BY_THERAPIST,
      };
    }
    case 'good-days':
      return { sentence: goodDaysSentence(ground), source: SET_BY_THERAPIST, days: ground.days };
    case 'no-days':
      return {
        sentence:
          'There is no training day to weigh yet: counting begins with the stage, and anew with each decision.',
        source: SET_BY_THERAPIST,
      };
    case 'waits-for-morning':
      return {
        sentence: `${nameOf(ground.day)} is not weighed yet: how the arm is the next morning is still to be said.`,
        source: SET_BY_THERAPIST,
        days: [ground.day],
      };
    case 'does-not-count':
      return {
        sentence: `${nameOf(ground.day)} does not count towards going on: ${listWords(ground.day.shortfalls.map((shortfall) => shortfallWords(shortfall, ground.day)))}.`,
        source: SET_BY_THERAPIST,
        days: [ground.day],
      };
    case 'days-missed': {
      const { monday, askedDays, doneDays } = ground.week;
      return {
        sentence: `In the week of ${dateWords(monday)}, ${doneDays} of ${countWords(askedDays, 'asked training day')} ${askedDays === 1 ? 'was' : 'were'} done.`,
        source: SET_BY_THERAPIST,
      };
    }
    case 'first-stage':
      return {
        sentence: 'This is the first stage, so there is none to step back to: a smaller dose is the choice.',
        source: SET_BY_THERAPIST,
        reader: 'therapist',
      };
    case 'last-stage':
      return { sentence: 'This is the last stage of the plan.', source: SET_BY_THERAPIST };
    case 'holds-wait':
      return {
        sentence: holdsWaitSentence(ground.clearance),
        source: 'raised pressure in straining: common practice, no source',
      };
    default:
      return noteOf(ground);
  }
}

/** What is told beside the rules: about the set-up, and that nothing has changed. For the therapist. */
function noteOf(ground: Extract<Ground, { kind: 'bar-ceiling' | 'felt-hardest' | 'plateau' }>): Said {
  switch (ground.kind) {
    case 'bar-ceiling': {
      const { days, setCount, mostUpperArms, thresholdUpperArms, bar } = ground.ceiling;
      const figures = `In ${countWords(setCount, 'set')} of holds the hand rose by up to ${figureWords(mostUpperArms, FORMS.upperArms)} upper-arm lengths; ${thresholdUpperArms} counts as the bar lifting.`;
      const choices = bar === null ? CEILING_WITHOUT_BAR : ceilingReachedSentences(bar).join(' ');
      return {
        sentence: `${figures} ${choices} The patient is only told to ease off.`,
        source:
          'statics of a bar on two supports; the rise that counts is the plan’s or, unless set, chosen for this tool',
        days,
        reader: 'therapist',
      };
    }
    case 'felt-hardest': {
      const { place, timesNamed, answerCount, calculated, days } = ground.felt;
      const felt =
        place === null
          ? `No one place was felt hardest in ${countWords(answerCount, 'answer')}`
          : `Felt hardest ${HARDEST_WORDS[place]} (${timesNamed} of ${countWords(answerCount, 'answer')})`;
      const beside =
        calculated === null
          ? 'nothing was calculated, because the equipment is not described.'
          : place === calculated
            ? `by calculation too it is hardest ${HARDEST_WORDS[calculated]}.`
            : `by calculation it is hardest ${HARDEST_WORDS[calculated]}. Look at anchor, length and how the arm is held before going on.`;
      return {
        sentence: `${felt}; ${beside}`,
        source: 'answers after the sets; calculation from a healthy population’s strength, an estimate',
        days,
        reader: 'therapist',
      };
    }
    case 'plateau': {
      const names = ground.trends.map((trend) => trendName(trend).toLowerCase());
      const sources = new Set(ground.trends.flatMap(({ limit }) => (limit ? [limitSource(limit)] : [])));
      return {
        sentence: `Over ${countWords(ground.weekCount, 'week')} in this stage nothing changed by more than may be chance: ${listWords(names)}.`,
        source: [...sources].join('; ').slice(0, 300) || PRACTICE,
        reader: 'therapist',
      };
    }
  }
}

/** The same for the therapist, whose decision it is. */
function holdsWaitSentence(clearance: HoldClearance): string {
  if (clearance.mayStart) return 'Holds may start.';
  switch (clearance.because) {
    case 'not-asked':
      return 'No hold starts: the questions before the plan were not asked.';
    case 'waits-for-therapist':
      return `No hold starts before a decision about ${listWords(clearance.yes.map((question) => PLAN_QUESTION_WORDS[question].short))}.`;
    case 'withheld':
      return 'No hold starts: holds are withheld.';
  }
}

function redFlagSentence(days: readonly WeighedDay[]): string {
  const told = days
    .slice(-MOST_NAMED)
    .map(
      (weighed) =>
        `${nameOf(weighed)}: ${listWords(weighed.redFlags.map((question) => SESSION_QUESTION_WORDS[question].short))}`,
    );
  return `Answered yes before a session, ${told.join('; ')}. No session; seek medical care now. Nothing else is proposed until the therapist has decided.`;
}

function goodDaysSentence({ days, needed }: Extract<Ground, { kind: 'good-days' }>): string {
  if (days.length === 0)
    return `0 of ${countWords(needed, 'training day')} in a row fulfil the rules of the plan so far.`;
  const shares = days.flatMap(({ doseShare }) => doseShare ?? []);
  const worst = Math.max(...days.flatMap(({ day }) => worstPain(day) ?? []), 0);
  const morning = Math.max(...days.flatMap(({ day }) => day.nextMorning?.pain ?? []), 0);
  const [first] = days;
  const last = days.at(-1);
  const span = first && last && first !== last ? ` (${nameOf(first)} to ${nameOf(last)})` : '';
  const least = figureWords(Math.min(...shares), FORMS.share);
  return `${countWords(days.length, 'training day')} in a row${span} fulfilled the rules, ${needed} are asked for: at least ${least} % of the dose, pain up to ${worst} in the session and up to ${morning} the next morning, never above the ceiling.`;
}

/** A day above the ceiling with its ratings: "Mon 2 March (4 in the session, ceiling 2)". */
export function badDayWords(weighed: WeighedDay): string {
  const { day, plan } = weighed;
  const parts: string[] = [];
  if (weighed.sessionPain === 'above') {
    const worst = worstPain(day);
    const ceiling = painCeiling(plan, day.painBefore);
    parts.push(
      worst !== null && ceiling !== null && worst > ceiling
        ? `${worst} in the session, ceiling ${ceiling}`
        : 'ended because of pain',
    );
  }
  if (weighed.morningPain === 'above')
    parts.push(
      `${day.nextMorning?.pain ?? 'above'} the next morning, ceiling ${nextMorningCeiling(plan, day.painBefore) ?? 0}`,
    );
  return `${nameOf(weighed)} (${parts.join('; ')})`;
}

function shortfallWords(
  shortfall: Shortfall,
  { doseShare, plan, shoulderDominantShare, day }: WeighedDay,
): string {
  const { doseShareToCount, shoulderDominantShareAllowed } = plan.progressRules;
  const percent = (share: number): string => `${figureWords(share, FORMS.share)} %`;
  switch (shortfall) {
    case 'not-ended':
      return 'it was not ended';
    case 'dose':
      return `${percent(doseShare ?? 0)} of the dose was done, ${percent(doseShareToCount)} is asked for`;
    case 'dose-unknown':
      return 'how much was done is not known';
    case 'session-pain':
      return `pain in the session was above the ceiling of ${painCeiling(plan, day.painBefore) ?? 'the plan'}`;
    case 'session-pain-missing':
      return 'pain was not said before, after each set or at the end';
    case 'morning-pain':
      return `pain the next morning was ${day.nextMorning?.pain ?? 'above'}, above the ceiling of ${nextMorningCeiling(plan, day.painBefore) ?? 'the plan'}`;
    case 'morning-missing':
      return 'pain the next morning was not said';
    case 'morning-ahead':
      return 'pain the next morning is still to be said';
    case 'shoulder':
      return `${percent(shoulderDominantShare ?? 0)} of the body-moving curls were shoulder-led, up to ${percent(shoulderDominantShareAllowed)} is allowed`;
    case 'shoulder-unknown':
      return 'curl or row could not be told in any body-moving curl';
  }
}

function nameOf({ day }: WeighedDay): string {
  return dateWords(dayOf(day.startedAt));
}

function countWords(count: number, noun: string): string {
  return `${count} ${noun}${count === 1 ? '' : 's'}`;
}
