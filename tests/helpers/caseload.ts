import { dateOf, dayOf } from '../../src/core/plan/calendar.ts';
import type { Plan } from '../../src/core/plan/plan.ts';
import { currentStage } from '../../src/core/plan/plan.ts';
import type { PlanQuestion } from '../../src/core/plan/safety-questions.ts';
import { dayLogText, readDayLog, type DayLog } from '../../src/core/export/day-log.ts';
import { peopleOf, type Person } from '../../src/core/review/people.ts';
import { listedFacts } from '../../src/core/session/session-listing.ts';
import { findingsOf } from '../../src/core/session/session-record.ts';
import { filmJudge, idOf, madeDay, madeYes, type FilmJudge, type FilmName } from './caseload-days.ts';
import { inventedPlan } from './plan-days.ts';
import { seededRandom } from './seeded-random.ts';

/*
 * What came in from 25 invented people with an invented therapist: 200 sessions. Nobody trained so, and no figure in it
 * is a finding. Sets are short, and several sessions share a trace.
 */

/** The Monday morning on which the list is looked at. */
export const CASELOAD_NOW = '2026-04-13T08:30:00+02:00';

const SESSIONS_EACH = 8;

/** What is the matter with an invented person; most of them train as asked. */
const COURSES = [
  'as-asked',
  'yes',
  'pain',
  'as-asked',
  'morning-pain',
  'missed',
  'shoulder-led',
  'as-asked',
  'hand-rose',
  'little-seen',
  'away',
  'as-asked',
  'fast',
  'waits',
] as const;
type Course = (typeof COURSES)[number];

/** How the last day's sets went where they did not go as asked; the days before went as asked. */
const FILM_OF: Partial<Record<Course, FilmName>> = {
  'shoulder-led': 'body-curl-row',
  'hand-rose': 'hold-rose',
  'little-seen': 'hold-unseen',
  fast: 'band-curl-fast',
};

/** One invented person: the plan, the days and the records as they came in. */
export interface InventedPerson {
  readonly label: string;
  readonly course: Course;
  readonly log: DayLog;
}

/** Everybody, the same people for the same seed. */
export function inventedCaseload(seed = 1): InventedPerson[] {
  const random = seededRandom(seed);
  const judge = filmJudge();
  return Array.from({ length: 25 }, (_, index) => invented(index, { random, judge }));
}

/** What a person hands over, as the text of a file of training days. */
export function handedOver({ log }: InventedPerson): string {
  return dayLogText(log, CASELOAD_NOW);
}

interface Making {
  readonly random: () => number;
  readonly judge: FilmJudge;
}

function invented(index: number, { random, judge }: Making): InventedPerson {
  const course = COURSES[index % COURSES.length] ?? 'as-asked';
  const label = `Invented ${String(index + 1).padStart(2, '0')}`;
  const plan = planOf(index, label, stageOf(course, random), course === 'waits' ? ['hernia'] : []);
  const dates = datesOf(course, SESSIONS_EACH / currentStage(plan).exercises.length, plan);
  const made = dates.map((date, place) => {
    const isLast = place === dates.length - 1;
    const before = Math.floor(random() * 3);
    return madeDay(plan, {
      date,
      number: index * 10 + place,
      painBefore: before,
      painAfter: course === 'pain' && isLast ? before + 3 : before,
      painMorning: course === 'morning-pain' && isLast ? before + 4 : before,
      odd: isLast ? (FILM_OF[course] ?? null) : null,
      judge,
    });
  });
  const yes = course === 'yes' ? [madeYes(plan, '04-12', index * 10 + 9)] : [];
  return {
    label,
    course,
    log: {
      versions: [plan],
      days: [...made.map(({ day }) => day), ...yes],
      records: made.flatMap(({ records }) => records),
    },
  };
}

/** Hand and bar belong to holds, shoulder-led repetitions to the body-moving curl, fast lowering to the band. */
function stageOf(course: Course, random: () => number): string {
  const any = ['hold', 'body-curl', 'band-curl'][Math.floor(random() * 3)] ?? 'hold';
  if (course === 'shoulder-led') return 'body-curl';
  if (course === 'fast') return 'band-curl';
  return course === 'hand-rose' || course === 'little-seen' || course === 'waits' ? 'hold' : any;
}

/** yes: what was answered with yes before the plan, so that holds wait for a decision. */
function planOf(index: number, label: string, stageKey: string, yes: PlanQuestion[]): Plan {
  const start = inventedPlan();
  const stages = start.stages.map((stage) => ({
    ...stage,
    exercises: stage.exercises.map((each) => ({
      ...each,
      dose:
        each.dose.kind === 'hold'
          ? {
              ...each.dose,
              sets: 2,
              easierSetsBefore: 1,
              holdSeconds: 6,
              daysAWeek: stage.key === 'hold' ? 3 : 2,
            }
          : { ...each.dose, sets: 2, repetitions: 3, daysAWeek: 2 },
    })),
  }));
  return {
    ...start,
    id: idOf(1, index),
    writtenAt: '2026-03-24T10:00:00+01:00',
    screening: { answeredAt: '2026-03-24T10:00:00+01:00', yes },
    person: { ...start.person, label },
    stages,
    stageKey,
  };
}

/** Dates of training, ending with the week before the list is looked at; away: the last of them are two weeks ago. */
function datesOf(course: Course, count: number, plan: Plan): string[] {
  const lastDay = dayOf('2026-04-11T00:00:00+02:00') - (course === 'away' ? 14 : 0);
  const weekdays = currentStage(plan).key === 'hold' ? [0, 2, 4] : [1, 4];
  const dates: string[] = [];
  for (let day = lastDay; dates.length < count; day--) {
    const weekday = (day + 3) % 7;
    // Who missed days left out all of the last week but one.
    const isLeftOut = course === 'missed' && day > lastDay - 5;
    if (!weekdays.includes(weekday) || isLeftOut) continue;
    const { month, day: ofMonth } = dateOf(day);
    dates.unshift(`${String(month).padStart(2, '0')}-${String(ofMonth).padStart(2, '0')}`);
  }
  return dates;
}

/** The list of a therapist who has taken in these files and signed nothing yet. Throws on a file that cannot be read. */
export function listOf(texts: readonly string[]): Person[] {
  const logs = texts.map((text) => {
    const reading = readDayLog(text);
    if (!reading.ok || reading.value.unreadable > 0)
      throw new Error('A file of the scenario cannot be read.');
    return reading.value;
  });
  return peopleOf(
    logs.map(({ versions, days }) => ({ planId: versions[0]?.id ?? '', versions, days, decisions: [] })),
    logs.flatMap(({ records }) =>
      records.map(({ sets, ...header }) => ({
        listing: {
          ...listedFacts(
            header,
            sets.map((set) => ({
              beginning: { painBefore: set.answers.painBefore },
              findings: findingsOf(set),
              answers: set.answers,
            })),
          ),
          state: 'finished' as const,
          cutOffSeconds: 0,
        },
        signedAt: null,
      })),
    ),
  );
}
