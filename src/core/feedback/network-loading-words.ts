import type { LoadProgress } from '../pose/pose-service.ts';

const MEGABYTE = 1e6;

/** What is being loaded, and how much of it is there: "Loading the pose network: 6 of 16 MB". */
export function networkLoadingWords(progress: LoadProgress | null): string {
  const label = 'Loading the pose network';
  if (progress === null || progress.totalBytes === 0) return label;
  const { loadedBytes, totalBytes } = progress;
  if (loadedBytes >= totalBytes) return 'Starting the pose network';
  return `${label}: ${Math.floor(loadedBytes / MEGABYTE)} of ${Math.ceil(totalBytes / MEGABYTE)} MB`;
}

/** Share of it that is there, 0 to 1; null where nothing is known of its size, or all of it is there and starts. */
export function networkLoadedShare(progress: LoadProgress | null): number | null {
  if (progress === null || progress.totalBytes === 0) return null;
  const share = progress.loadedBytes / progress.totalBytes;
  return share < 1 ? share : null;
}
