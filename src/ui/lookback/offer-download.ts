/** Hands a file to the browser to save. */
export function offerDownload(fileName: string, file: Blob): void {
  const url = URL.createObjectURL(file);
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The browser has taken hold of the data once the click was handled; a later turn is early enough to let go.
  setTimeout(() => URL.revokeObjectURL(url), 0);
}
