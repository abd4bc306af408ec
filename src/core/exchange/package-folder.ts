/** A folder that the person chose: what is new in it is taken in for as long as the page is open. */
export interface PackageFolder {
  readonly name: string;
  /** Packages that came or changed since the last call. Rejects when the folder can be read no longer. */
  newFiles(): Promise<File[]>;
}

/** Whether a file may be a package, by its name. */
export function mayBePackage(fileName: string): boolean {
  return /\.(age|zip)$/i.test(fileName);
}
