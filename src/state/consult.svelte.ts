import type { LinkEars, PeerLink } from '../core/consult/peer-link.ts';
import { readWayServers, type WayServer } from '../core/consult/way-servers.ts';
import type { ConsultSide } from '../core/consult/messages.ts';
import { readTicket } from '../core/consult/return-ticket.ts';
import { ConsultPatient, type PatientParts } from './consult-patient.svelte.ts';
import { ConsultTherapist, type TherapistParts } from './consult-therapist.svelte.ts';

/** What a consult stands on: the parts of its sides, with a link that asks the given servers for a way. */
interface ConsultDoor extends Omit<PatientParts & TherapistParts, 'openLink'> {
  readonly openLink: (
    role: 'inviting' | 'joining',
    ears: LinkEars,
    servers: readonly WayServer[],
  ) => PeerLink;
}

/** The consult of this page, from one of its two sides; null before one was chosen. */
export class Consult {
  readonly #parts: PatientParts & TherapistParts;
  #side = $state.raw<ConsultTherapist | ConsultPatient | null>(null);

  constructor(door: ConsultDoor) {
    const servers = (): readonly WayServer[] => {
      const read = readWayServers(door.settings.now.consultServers);
      return read.ok ? read.value : [];
    };
    this.#parts = { ...door, openLink: (role, ears) => door.openLink(role, ears, servers()) };
    const ticket = readTicket(door.tickets.load(), Date.parse(door.moment()));
    if (ticket !== null) this.begin(ticket.side).way.resume(ticket);
  }

  get side(): ConsultTherapist | ConsultPatient | null {
    return this.#side;
  }

  /** True while this page records something that is no consult's. */
  get isBusy(): boolean {
    return this.#side === null && this.#parts.live.stage !== 'none';
  }

  /** The origin of the server that passes invitations on. */
  get serverOrigin(): string {
    return this.#parts.meetings.origin;
  }

  /** Begins as one of the two. */
  begin(as: ConsultSide): ConsultTherapist | ConsultPatient {
    return (this.#side =
      as === 'therapist' ? new ConsultTherapist(this.#parts) : new ConsultPatient(this.#parts));
  }

  /** Leaves a consult that is over, or never began. */
  leave(): void {
    this.#side?.line.close();
    this.#side = null;
  }
}
