/** Hands a text to the browser as a file to save. */
export function offerDownload(fileName: string, type: 'application/json' | 'text/csv', text: string): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = fileName;
  link.click();
  // The browser has taken hold of the data once the click was handled; a later turn is early enough to let go.
  setTimeout(() => URL.revokeObjectURL(url), 0);
}
