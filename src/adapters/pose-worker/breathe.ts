/** Settles when everything that waits for this thread has had its turn. Costs far less than a timer. */
export function breathe(): Promise<void> {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.addEventListener(
      'message',
      () => {
        port1.close();
        resolve();
      },
      { once: true },
    );
    port1.start();
    port2.postMessage(null);
  });
}
