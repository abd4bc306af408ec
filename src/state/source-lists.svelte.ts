import type { CameraChoice, DemoClip, SourceOpener } from '../core/session/source-opener.ts';

/** What can be opened: the cameras that are there and the clips that come with the app. */
export class SourceLists {
  readonly #sources: SourceOpener;
  #cameras = $state.raw<readonly CameraChoice[]>([]);
  #demoClips = $state.raw<readonly DemoClip[]>([]);

  constructor(sources: SourceOpener) {
    this.#sources = sources;
  }

  get cameras(): readonly CameraChoice[] {
    return this.#cameras;
  }

  get demoClips(): readonly DemoClip[] {
    return this.#demoClips;
  }

  async listCameras(): Promise<void> {
    this.#cameras = await this.#sources.cameras();
  }

  async listDemoClips(): Promise<void> {
    this.#demoClips = await this.#sources.demoClips();
  }
}
