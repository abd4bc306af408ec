/**
 * `npm run scenario`: six weeks of an invented person, day by day: what was asked, done and answered, what the plan's rules
 * propose with every reason, what an invented therapist decides, and what changes in the plan. Nobody trained so.
 */
import { dateWords } from '../src/core/feedback/date-words.ts';
import { daysAWeekWords, doseWords, PLANNED_EXERCISE_WORDS } from '../src/core/feedback/dose-words.ts';
import { figureWords, FORMS } from '../src/core/feedback/measure-words.ts';
import { planDifferences } from '../src/core/feedback/plan-differences.ts';
import { STAGES_EVIDENCE } from '../src/core/feedback/plan-words.ts';
import {
  holdClearanceSentence,
  NO_CLEARS_NOBODY,
  sessionClearanceSentence,
} from '../src/core/feedback/safety-words.ts';
import { trendSentence } from '../src/core/feedback/trend-words.ts';
import { askedAgainstDone, type AskedDoneExercise } from '../src/core/plan/asked-done.ts';
import { dayOf } from '../src/core/plan/calendar.ts';
import type { Proposal } from '../src/core/plan/decision.ts';
import { mayHoldsStart, maySessionStart } from '../src/core/plan/may-start.ts';
import { nextMorningCeiling, painCeiling } from '../src/core/plan/pain.ts';
import { currentStage, type Plan } from '../src/core/plan/plan.ts';
import type { TrainingDay } from '../src/core/plan/training-day.ts';
import { trendOf } from '../src/core/plan/trend.ts';
import { weekView } from '../src/core/plan/weeks.ts';
import { DIRECTION_TITLES } from '../src/ui/progress/decision-words.ts';
import { sixWeeks, type Scenario, type ScenarioDay } from '../tests/helpers/six-weeks.ts';

const WIDTH = 112;

const scenario = sixWeeks();
say(0, 'A scenario of our own: person, therapist, answers and figures are invented. Nobody trained so.');
say(0, STAGES_EVIDENCE);
beginning(scenario);
for (const [index, day] of scenario.days.entries()) tellDay(day, scenario.days[index - 1]?.proposal ?? null);
weeks(scenario);
trends(scenario);

function beginning({ firstPlan, secondPlan }: Scenario): void {
  heading('Sun 1 March: the plan');
  const stage = currentStage(firstPlan);
  say(2, `Stages: ${firstPlan.stages.map(({ name }) => name).join(' > ')}. Followed: ${stage.name}.`);
  say(2, holdClearanceSentence(mayHoldsStart(firstPlan)) ?? 'Holds may start.');
  say(2, NO_CLEARS_NOBODY);
  newVersion(firstPlan, secondPlan);
}

function tellDay(
  { moment, plan, proposal, decision, newPlan, trained, followed }: ScenarioDay,
  before: Proposal | null,
): void {
  heading(dateWords(dayOf(moment)));
  if (JSON.stringify(before) === JSON.stringify(proposal))
    say(2, `Proposed, as the day before: ${DIRECTION_TITLES[proposal.direction]}.`);
  else tellProposal(proposal, plan);
  if (decision !== null) {
    const agrees = decision.direction === proposal.direction ? 'as proposed' : 'other than proposed';
    say(
      2,
      `The therapist decides (${agrees}): ${DIRECTION_TITLES[decision.direction]}. “${decision.reason}”`,
    );
  }
  if (newPlan !== null) newVersion(plan, newPlan);
  if (trained !== null) tellTraining(followed, trained);
}

function tellProposal({ direction, toStageKey, reasons }: Proposal, plan: Plan): void {
  const stage = plan.stages.find(({ key }) => key === toStageKey);
  say(2, `Proposed: ${DIRECTION_TITLES[direction]} (${stage?.name ?? toStageKey}).`);
  for (const { sentence, source, reader } of reasons)
    say(4, `- ${sentence} [${source}${reader === 'therapist' ? '; for the therapist' : ''}]`);
}

function newVersion(before: Plan, after: Plan): void {
  say(2, `Plan version ${after.version}: ${after.reason}`);
  for (const difference of planDifferences(before, after)) say(4, `- ${difference}`);
}

function tellTraining(plan: Plan, day: TrainingDay): void {
  const before = scenario.trained.filter(({ startedAt }) => startedAt < day.startedAt);
  const past = { days: before, versions: [], decisions: scenario.decisions };
  const refusal = sessionClearanceSentence(maySessionStart(day, past));
  if (refusal !== null) {
    say(2, `Training: ${refusal}`);
    return;
  }
  for (const exercise of askedAgainstDone(plan, day).exercises) {
    const { dose, exercise: name } = exercise.exercise;
    const asked = `${PLANNED_EXERCISE_WORDS[name]}, asked ${doseWords(dose)}, ${daysAWeekWords(dose)}`;
    say(2, `Training: ${asked}; done ${doneWords(exercise)}.`);
  }
  say(4, painWords(plan, day));
}

function doneWords({ sets, share }: AskedDoneExercise): string {
  const amounts = sets.map(({ doneAmount }) =>
    doneAmount === null ? 'not known' : figureWords(doneAmount, { unit: '', decimals: 0 }),
  );
  const whole = share === null ? 'share not known' : `${figureWords(share, FORMS.share)} %`;
  return `${amounts.join(', ')} (${whole})`;
}

function painWords(plan: Plan, day: TrainingDay): string {
  const said = (rating: number | null | undefined): string =>
    rating === null || rating === undefined ? 'not said' : String(rating);
  const sets = day.exercises.flatMap((done) => done.sets.map(({ painAfter }) => said(painAfter)));
  return [
    `Pain before ${said(day.painBefore)}`,
    `after the sets ${sets.join(' ')}`,
    `at the end ${said(day.painAtEnd)} (ceiling ${said(painCeiling(plan, day.painBefore))})`,
    `next morning ${said(day.nextMorning?.pain)} (ceiling ${said(nextMorningCeiling(plan, day.painBefore))})`,
  ].join(', ');
}

function weeks({ versions, trained, end }: Scenario): void {
  heading('The weeks');
  for (const { monday, askedDays, doneDays, missedDays, days } of weekView(versions, trained, end)) {
    const missed = missedDays === null ? 'goes on' : `${missedDays} missed`;
    const marks = days.map(({ status }) => status).join(' · ');
    say(2, `${dateWords(monday)}: ${doneDays} of ${askedDays} asked days done, ${missed}. ${marks}`);
  }
}

function trends({ trained }: Scenario): void {
  heading('The trend over the six weeks');
  for (const trend of trendOf(trained)) say(2, trendSentence(trend));
}

function heading(text: string): void {
  console.log(`\n${text}`);
}

/** Prints a paragraph, indented and broken at WIDTH. */
function say(indent: number, text: string): void {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && indent + line.length + 1 + word.length > WIDTH) {
      lines.push(line);
      line = `  ${word}`;
    } else line = line === '' ? word : `${line} ${word}`;
  }
  for (const each of [...lines, line]) console.log(' '.repeat(indent) + each);
}
