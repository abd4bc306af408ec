import { mayBePackage, type PackageFolder } from '../../core/exchange/package-folder.ts';

/** The part of the File System Access API that is used here; not every browser has it. */
interface DirectoryHandle {
  readonly name: string;
  values(): AsyncIterable<FileHandle | { readonly kind: 'directory' }>;
}
interface FileHandle {
  readonly kind: 'file';
  readonly name: string;
  getFile(): Promise<File>;
}
interface DirectoryPicker {
  showDirectoryPicker(options: { readonly mode: 'read' }): Promise<DirectoryHandle>;
}

/** Lets the person choose a folder; null where they choose none. The whole is null where the browser cannot. */
export function folderChooser(): (() => Promise<PackageFolder | null>) | null {
  return hasPicker(window) ? () => chooseFolder(window) : null;
}

function hasPicker(page: Window): page is Window & DirectoryPicker {
  return 'showDirectoryPicker' in page;
}

async function chooseFolder(page: Window): Promise<PackageFolder | null> {
  if (!hasPicker(page)) return null;
  try {
    return folderOf(await page.showDirectoryPicker({ mode: 'read' }));
  } catch (error) {
    // The person closed the picker, or said no.
    if (error instanceof DOMException && /^(AbortError|NotAllowedError)$/.test(error.name)) return null;
    throw error;
  }
}

function folderOf(directory: DirectoryHandle): PackageFolder {
  const seen = new Map<string, string>();
  return {
    name: directory.name,
    newFiles: async () => {
      const files: File[] = [];
      for await (const entry of directory.values()) {
        if (entry.kind !== 'file' || !mayBePackage(entry.name)) continue;
        const file = await entry.getFile();
        const state = `${file.size} ${file.lastModified}`;
        if (seen.get(file.name) === state) continue;
        seen.set(file.name, state);
        files.push(file);
      }
      return files;
    },
  };
}
