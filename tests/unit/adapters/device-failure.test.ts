import { describe, expect, it } from 'vitest';
import { deviceProblem } from '../../../src/adapters/frames/device-failure.ts';

// Names: W3C Media Capture and Streams, section on getUserMedia; Screen Capture, section on getDisplayMedia.
describe('what a browser says when a device cannot be had', () => {
  it.each([
    ['NotFoundError', 'no-camera'],
    ['OverconstrainedError', 'no-camera'],
    ['NotAllowedError', 'permission-refused'],
    ['SecurityError', 'permission-refused'],
    ['NotReadableError', 'camera-in-use'],
    ['AbortError', 'camera-in-use'],
    ['SomethingNewError', 'source-unknown'],
  ])('is read as meant: %s of a camera is %s', (name, problem) => {
    expect(deviceProblem(new DOMException('', name), 'camera')).toBe(problem);
  });

  it('is a refusal for a window that was not shared', () => {
    expect(deviceProblem(new DOMException('', 'NotAllowedError'), 'sharing')).toBe('sharing-refused');
  });
});
