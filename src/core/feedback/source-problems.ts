import type { EstimatorProblem } from '../pose/estimator-problem.ts';
import type { SourceProblem } from '../pose/frame-source.ts';

/** What happened to a source and what to do. One sentence or two for each problem, read by people. */
const SOURCE_SENTENCES: Readonly<Record<SourceProblem, string>> = {
  'no-camera': 'No camera was found. Plug one in and choose it again, or open a clip.',
  'permission-refused':
    'The browser was not allowed to use the camera. Allow it by the sign beside the address, then choose the camera again, or open a clip.',
  'camera-in-use':
    'The camera is taken by another program. Close the program that uses it, then choose the camera again.',
  'camera-unplugged':
    'The camera is gone; what was measured until then is kept. Plug it in again, or end the call or close the program that took it, then open the camera again.',
  'sharing-refused':
    'No window was shared. Choose the window or tab again and confirm, and allow screen recording where the system asks.',
  'sharing-ended':
    'The sharing of the window ended; what was measured until then is kept. Share it again to start the next set.',
  'clip-damaged':
    'The clip is damaged or breaks off, and could not be read. Copy it again from where it was recorded, or record it again.',
  'clip-empty': 'The clip holds no picture. Copy it again from where it was recorded, or record it again.',
  'clip-without-video': 'The file holds sound only, no picture. Choose a video clip.',
  'clip-codec-unknown':
    'This browser cannot decode the clip, most often HEVC (H.265) from a phone. Record with the camera setting "Most Compatible" (H.264), convert the clip to H.264 in an MP4 file, or open it in another browser.',
  'clip-too-long': 'The clip is longer than one hour. Cut it to the set that counts, and open that.',
  'not-secure':
    'This browser gives no access to cameras or windows here. Open the page by its localhost or https address, in a browser on a computer, or open a clip.',
  'source-unknown':
    'This is not a video that can be read. Choose an MP4, MOV, WebM or MKV clip, or another camera.',
};

const ESTIMATOR_SENTENCES: Readonly<Record<EstimatorProblem, string>> = {
  'model-missing':
    'A model file could not be loaded. Check that the program still runs, then load this page again.',
  'model-damaged':
    'A model file is damaged, so nothing is measured with it. Delete the folder models/files, run "npm start" again and load this page again.',
  'no-simd':
    'This browser lacks WebAssembly SIMD, without which the pose cannot be computed. Update the browser, or use a current Chrome, Edge, Firefox or Safari.',
  'no-webgl':
    'This browser lacks WebGL 2, without which the pose cannot be computed. Turn on hardware acceleration in its settings, or use another browser.',
  failed:
    'The pose could not be computed; what was measured until then is kept. Open the source again to go on; if it fails once more, close other programs and load this page again.',
};

/** The sentence for a source's problem: what happened, and what to do. */
export function sourceSentence(problem: SourceProblem): string {
  return SOURCE_SENTENCES[problem];
}

/** The sentence for an estimator's problem: what happened, and what to do. */
export function estimatorSentence(problem: EstimatorProblem): string {
  return ESTIMATOR_SENTENCES[problem];
}
