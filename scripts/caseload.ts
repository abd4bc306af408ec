/**
 * `npm run caseload -- [FOLDER]`: 200 sessions of 25 invented people, taken in as they would be handed over, and who needs a
 * look first with every reason. With a folder the packages and files of training days are written there, to be taken in by
 * the app. Nobody trained so, and no figure is a finding.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { NEED_WORDS, needSentence } from '../src/core/feedback/need-words.ts';
import { byNeed, NEED_KINDS } from '../src/core/review/needs.ts';
import { planOf } from '../src/core/review/people.ts';
import { packageOf } from '../tests/helpers/caseload-packages.ts';
import { CASELOAD_NOW, handedOver, inventedCaseload, listOf } from '../tests/helpers/caseload.ts';

/** So many of the list are printed with their reasons. */
const TOP = 12;

const [folder] = process.argv.slice(2);
const people = inventedCaseload();
const texts = people.map(handedOver);
if (folder !== undefined) {
  mkdirSync(folder, { recursive: true });
  for (const [index, person] of people.entries()) {
    const stem = join(folder, person.label.toLowerCase().replace(' ', '-'));
    writeFileSync(`${stem}.days.json`, texts[index] ?? '');
    writeFileSync(`${stem}.zip`, await packageOf(person, { kind: 'open' }));
  }
}

const began = performance.now();
const list = byNeed(listOf(texts), CASELOAD_NOW);
const seconds = (performance.now() - began) / 1000;
const sessions = list.reduce((sum, { person }) => sum + person.sessions.length, 0);
console.log('A scenario of our own: people, answers and figures are invented. Nobody trained so.');
console.log(
  `${list.length} people, ${sessions} sessions, read and put in order in ${seconds.toFixed(1)} s. The first ${TOP}:`,
);
for (const [place, { person, needs }] of list.slice(0, TOP).entries()) {
  console.log(`\n${String(place + 1).padStart(2)}  ${planOf(person)?.person.label ?? person.key}`);
  for (const need of needs) console.log(`      ${NEED_WORDS[need.kind]}: ${needSentence(need)}`);
}
console.log('\nHow many people have each reason:');
for (const kind of NEED_KINDS) {
  const count = list.filter(({ needs }) => needs.some((need) => need.kind === kind)).length;
  console.log(`${String(count).padStart(4)}  ${NEED_WORDS[kind]}`);
}
if (folder !== undefined)
  console.log(
    `\nIn ${folder}: packages (.zip), all taken in at once under "Send and take in", and files of training days, one by one on Progress.`,
  );
