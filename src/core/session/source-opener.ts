import type { ExerciseSettings } from '../exercises/exercise.ts';
import type { OpenedSource } from '../pose/frame-source.ts';

/** A camera that can be chosen. */
export interface CameraChoice {
  readonly id: string;
  readonly label: string;
}

/** A clip that comes with the app, with what is known of the figure in it. */
export interface DemoClip {
  readonly name: string;
  /** What is shown, a few words. */
  readonly title: string;
  readonly settings: ExerciseSettings;
}

/** Opens what pictures come from. Nothing here rejects for a fault of a device or a file: that is a problem. */
export interface SourceOpener {
  readonly demoClips: readonly DemoClip[];
  /** The cameras that are there; without labels until the use of a camera was once allowed. */
  cameras(): Promise<readonly CameraChoice[]>;
  /** Null lets the browser choose. */
  openCamera(cameraId: string | null): Promise<OpenedSource>;
  openSharedWindow(): Promise<OpenedSource>;
  openClip(file: File): Promise<OpenedSource>;
  openDemo(clip: DemoClip): Promise<OpenedSource>;
}
