import { getContext, setContext } from 'svelte';

const KEY = Symbol('arrival');

/** Given the heading of a screen that has just appeared. */
export type Arrival = (heading: HTMLElement) => void;

/** Set by the shell, which knows whether the screen was changed. */
export function setArrival(arrival: Arrival): void {
  setContext(KEY, arrival);
}

/**
 * For the heading of a screen: after a change of screen it takes the focus, so that the reader stands at the new
 * screen's beginning. Outside a shell nothing happens.
 */
export function arrival(): Arrival {
  return getContext<Arrival | undefined>(KEY) ?? (() => undefined);
}
