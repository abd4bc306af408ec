/** How often the detector looks who is there, seconds of the pictures' own clock: the same pictures on every machine. */
const LOOK_EVERY_SECONDS = 0.5;

/** Looks in a row that must find the tracker astray before it has to search afresh: one look may be wrong. */
const ASTRAY_LOOKS = 2;

/** When to look who is there beside the person who is followed, and what the last looks said. */
export class LookSchedule {
  /** How many people were there at the last look; null before the first. */
  people: number | null = null;
  #nextSeconds = Number.NEGATIVE_INFINITY;
  #astray = 0;

  /** True when it is time for a look, which is then taken as done. */
  isDue(timeSeconds: number): boolean {
    if (timeSeconds < this.#nextSeconds) return false;
    this.#nextSeconds = timeSeconds + LOOK_EVERY_SECONDS;
    return true;
  }

  /** Notes what a look said of the tracker. True when it has been astray for so long that it must search afresh. */
  isAstray(followsNobody: boolean): boolean {
    this.#astray = followsNobody ? this.#astray + 1 : 0;
    if (this.#astray < ASTRAY_LOOKS) return false;
    this.#astray = 0;
    return true;
  }

  /** As before the first picture. */
  startAfresh(): void {
    this.people = null;
    this.#nextSeconds = Number.NEGATIVE_INFINITY;
    this.#astray = 0;
  }
}
