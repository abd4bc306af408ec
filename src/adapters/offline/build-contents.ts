/** What the service worker is told of the build that it belongs to. */
export interface BuildContents {
  /** Changes with any file of the app. */
  readonly version: string;
  /** Every file of the app: address below the worker's, a revision where the address does not carry one, hash. */
  readonly appFiles: readonly {
    readonly url: string;
    readonly revision: string | null;
    readonly integrity: string;
  }[];
  /** Changes with any demo clip. */
  readonly clipsVersion: string;
}
