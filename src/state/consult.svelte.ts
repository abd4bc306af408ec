import type { ConsultSide } from '../core/consult/messages.ts';
import { ConsultPatient, type PatientParts } from './consult-patient.svelte.ts';
import { ConsultTherapist } from './consult-therapist.svelte.ts';

/** The consult of this page, from one of its two sides; null before one was chosen. */
export class Consult {
  readonly #parts: PatientParts;
  #side = $state.raw<ConsultTherapist | ConsultPatient | null>(null);

  constructor(parts: PatientParts) {
    this.#parts = parts;
  }

  get side(): ConsultTherapist | ConsultPatient | null {
    return this.#side;
  }

  /** True while this page records something that is no consult's. */
  get isBusy(): boolean {
    return this.#side === null && this.#parts.live.stage !== 'none';
  }

  /** Begins as one of the two. */
  begin(as: ConsultSide): void {
    this.#side = as === 'therapist' ? new ConsultTherapist(this.#parts) : new ConsultPatient(this.#parts);
  }

  /** Leaves a consult that is over, or never began. */
  leave(): void {
    this.#side?.line.close();
    this.#side = null;
  }
}
