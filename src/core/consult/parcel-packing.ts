/** How a text is made small for the line; done by the platform. */
export interface ParcelPacking {
  readonly pack: (text: string) => Promise<string>;
  /** The text that was packed; null when it was cut or changed, or would unpack to more than so many bytes. */
  readonly unpack: (packed: string, mostBytes: number) => Promise<string | null>;
}
