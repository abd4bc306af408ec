import type { Hold, Repetition } from '../exercises/judgement.ts';
import { correctionWords } from '../feedback/correction-words.ts';
import type { CorrectedJudgement, StandingItem } from '../review/corrections.ts';
import type { Correction } from '../review/review-document.ts';
import { itemObservation, type ItemName, type ObservedSet } from './fhir-items.ts';
import { concept, derivedId, referenceTo, type FhirResource } from './fhir-parts.ts';

/*
 * What a review corrected, in FHIR R4 (4.0.1): both stay to be seen. What the program judged keeps its observation; where a
 * signed review took it away that one is withdrawn (status entered-in-error), so that nobody counts both. What stands in its
 * place has the status corrected and is derived from it. Where nobody signed, the correction is preliminary and nothing is
 * withdrawn. Each correction has its Provenance, with the reason and what it revised or removed.
 */

/** The holds or repetitions of a set, and what was done to them. */
export interface ObservedItems {
  /** As the program judged them, then what corrections put in place. */
  readonly observations: readonly FhirResource[];
  /** Those that count, in the order of time: the members of the set. */
  readonly members: readonly FhirResource[];
  /** One for each correction that holds. */
  readonly provenances: readonly FhirResource[];
}

/** Observations of the holds and repetitions of a set, as they were judged and as a review left them. */
export function observedItems(set: ObservedSet, after: CorrectedJudgement, isSigned: boolean): ObservedItems {
  const { holds, repetitions } = set.judgement;
  const discarded = (item: Correction['item']) => after.discarded.filter(({ by }) => by.item === item);
  const both = [
    observedKind(
      set,
      { name: 'Hold', judged: holds, standing: after.holds, discarded: discarded('hold') },
      isSigned,
    ),
    observedKind(
      set,
      {
        name: 'Repetition',
        judged: repetitions,
        standing: after.repetitions,
        discarded: discarded('repetition'),
      },
      isSigned,
    ),
  ];
  return {
    observations: both.flatMap(({ observations }) => observations),
    members: both.flatMap(({ members }) => members),
    provenances: both.flatMap(({ provenances }) => provenances),
  };
}

interface ItemsOfKind {
  readonly name: ItemName;
  readonly judged: readonly (Hold | Repetition)[];
  readonly standing: readonly StandingItem<Hold | Repetition>[];
  readonly discarded: CorrectedJudgement['discarded'];
}

function observedKind(
  set: ObservedSet,
  { name, judged, standing, discarded }: ItemsOfKind,
  isSigned: boolean,
): ObservedItems {
  const corrections = [
    ...new Set([
      ...standing.flatMap((one) => one.corrections),
      ...discarded.flatMap(({ corrections: before, by }) => [...before, by]),
    ]),
  ];
  const originals = new Map(corrections.map((one) => [one.id, originalsOf(one, corrections)]));
  const placesOf = ({ id }: Correction): readonly number[] => originals.get(id) ?? [];
  const stands = new Set(standing.flatMap(({ ref }) => (ref.from === 'record' ? [ref.index] : [])));
  const asJudged = judged.map((item, place) => {
    const led = stands.has(place) ? [] : corrections.filter((one) => placesOf(one).includes(place));
    const id = derivedId('observation', set.recordId, String(set.setIndex), name, String(place));
    const status = isSigned && led.length > 0 ? 'entered-in-error' : 'final';
    return itemObservation(item, { id, status, words: `${name} ${place + 1}`, notes: led.map(noteOf) }, set);
  });
  const at = (places: readonly number[]): FhirResource[] => places.flatMap((place) => asJudged[place] ?? []);
  const now = standing.map(({ item, ref, corrections: led }, place) => {
    if (ref.from === 'record') return { observation: at([ref.index])[0], led };
    const from = at([...new Set(led.flatMap(placesOf))]);
    const id = derivedId('observation', set.recordId, ref.correctionId, String(ref.part));
    // What the program missed corrects nothing that was said before.
    const status = from.length === 0 ? 'final' : 'corrected';
    const words = `${name} ${place + 1} after corrections`;
    const of = { id, status: isSigned ? status : 'preliminary', words, notes: led.map(noteOf) };
    const observation = itemObservation(item, of, set);
    return {
      observation: from.length === 0 ? observation : { ...observation, derivedFrom: from.map(referenceTo) },
      led,
    };
  });
  const put = now.flatMap(({ observation, led }) => (led.length === 0 ? [] : (observation ?? [])));
  return {
    observations: [...asJudged, ...put],
    members: isSigned ? now.flatMap(({ observation }) => observation ?? []) : asJudged,
    provenances: corrections.flatMap((one) => {
      const led = now.flatMap(({ observation, led: by }) => (by.includes(one) ? (observation ?? []) : []));
      return provenanceOf(one, led, at(placesOf(one)));
    }),
  };
}

/** Places in the record of what a correction took away, itself or by the corrections that it stands on. */
function originalsOf({ targets }: Correction, all: readonly Correction[]): number[] {
  const places = targets.flatMap((ref) => {
    if (ref.from === 'record') return [ref.index];
    const before = all.find(({ id }) => id === ref.correctionId);
    return before === undefined ? [] : originalsOf(before, all);
  });
  return [...new Set(places)];
}

/** Where a correction comes from; none of one that added what another one took away again. */
function provenanceOf(
  correction: Correction,
  led: readonly FhirResource[],
  originals: readonly FhirResource[],
): FhirResource[] {
  const targets = led.length > 0 ? led : originals;
  if (targets.length === 0) return [];
  const role = led.length > 0 ? 'revision' : 'removal';
  return [
    {
      resourceType: 'Provenance',
      id: derivedId('provenance', correction.id),
      target: targets.map(referenceTo),
      recorded: correction.at,
      reason: [concept(correction.reason)],
      activity: concept(correctionWords(correction)),
      agent: [
        {
          type: concept('Author'),
          who: { display: 'The therapist who reviewed the session; not identified' },
        },
      ],
      ...(originals.length === 0
        ? {}
        : { entity: originals.map((one) => ({ role, what: referenceTo(one) })) }),
    },
  ];
}

function noteOf(correction: Correction): string {
  return `${correctionWords(correction)}. Reason: ${correction.reason}`;
}
