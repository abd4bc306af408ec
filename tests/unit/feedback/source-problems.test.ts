import { describe, expect, it } from 'vitest';
import { estimatorSentence, sourceSentence } from '../../../src/core/feedback/source-problems.ts';
import type { EstimatorProblem } from '../../../src/core/pose/estimator-problem.ts';
import type { SourceProblem } from '../../../src/core/pose/frame-source.ts';

/** Every problem, by a record whose type fails when one is missing; the word that what to do must hold. */
const SOURCES: Readonly<Record<SourceProblem, RegExp>> = {
  'no-camera': /Plug one in/,
  'permission-refused': /Allow it/,
  'camera-in-use': /Close the program/,
  'camera-unplugged': /kept.*Plug it in/,
  'sharing-refused': /Choose the window or tab again/,
  'sharing-ended': /kept.*Share it again/,
  'clip-damaged': /Copy it again/,
  'clip-empty': /Copy it again/,
  'clip-without-video': /Choose a video/,
  'clip-codec-unknown': /HEVC.*"Most Compatible".*convert/,
  'clip-too-long': /Cut it/,
  'not-secure': /localhost or https/,
  'source-unknown': /MP4, MOV, WebM/,
};
const ESTIMATORS: Readonly<Record<EstimatorProblem, RegExp>> = {
  'model-missing': /load this page again/,
  'model-damaged': /npm start/,
  'no-simd': /Update the browser/,
  'no-webgl': /hardware acceleration/,
  failed: /kept.*Open the source again.*load this page again/,
};

describe('the sentences for faults of sources and of the estimator', () => {
  it.each([
    ...Object.entries(SOURCES).map(
      ([problem, remedy]) => [problem, sourceSentence(problem as SourceProblem), remedy] as const,
    ),
    ...Object.entries(ESTIMATORS).map(
      ([problem, remedy]) => [problem, estimatorSentence(problem as EstimatorProblem), remedy] as const,
    ),
  ])('%s: says what happened and what to do, without an exclamation mark', (_, sentence, remedy) => {
    expect(sentence).toMatch(remedy);
    expect(sentence).toMatch(/^[A-Z].*\.$/);
    expect(sentence).not.toContain('!');
  });
});
