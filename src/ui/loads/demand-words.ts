import type { DemandCurve } from '../../core/loads/demand.ts';

/** A curve with what it is called. */
export interface NamedDemand {
  readonly name: string;
  readonly curve: DemandCurve;
}
