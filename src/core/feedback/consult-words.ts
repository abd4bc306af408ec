import type { ClockOffset } from '../consult/clock-offset.ts';
import type { InvitationProblem } from '../consult/invitation.ts';
import type { LinkEnd } from '../consult/link-state.ts';
import type { LeftOut } from '../consult/line-quality.ts';
import type { Consent, ConsultSide, EntryContent, Prescription } from '../consult/messages.ts';
import type { Dose } from '../plan/dose.ts';
import type { WayServer } from '../consult/way-servers.ts';
import type { Reading } from '../documents/read-document.ts';
import type { MessageProblem } from '../consult/read-message.ts';
import { watchedWords } from './drawing-words.ts';
import { doseWords, PLANNED_EXERCISE_WORDS, tempoWords } from './dose-words.ts';
import { FORMS, valueWords } from './measure-words.ts';

const INVITATION_SENTENCES: Readonly<Record<InvitationProblem, string>> = {
  'not-one': 'This is no text of a consult. Copy the whole of it, from its first to its last character.',
  newer: 'This text was made by a newer version of the program. Load this page again to update it.',
  damaged: 'This text was cut or changed on its way. Ask for it to be sent again, and copy the whole of it.',
  ended: 'This invitation has ended. Ask for a new one.',
  used: 'This invitation was answered already, and holds for one answer. Make a new one.',
  'other-invitation': 'This answers another invitation. Paste the answer to the one that stands here.',
  'answer-not-invitation': 'This is an answer, not an invitation. Paste the text that your therapist sent.',
  'invitation-not-answer': 'This is an invitation, not an answer. Paste the text that came back.',
};

/** Why a text does not lead into a consult, and what to do. */
export function invitationSentence(problem: InvitationProblem): string {
  return INVITATION_SENTENCES[problem];
}

/** Why nobody was met by a code or a link, and what to do. */
export function noMeetingSentence(why: 'nobody' | 'no-server'): string {
  return why === 'nobody'
    ? 'Nobody answered to this code or link. Compare it letter by letter, and ask your therapist to keep the page with the invitation open. After an hour it holds no longer.'
    : 'The server that passes invitations on was not reached. Ask your therapist for the invitation as a text, and paste it here.';
}

const SMALLER = 'smaller, so that the figures come first';
const LEFT_WORDS: Readonly<Record<Exclude<LeftOut, 'none'>, readonly [own: string, other: string]>> = {
  smaller: [`your picture is sent ${SMALLER}.`, `the other picture comes ${SMALLER}.`],
  picture: [
    'your picture is left out for now, so that figures and sound come through.',
    'the other picture is left out for now, so that figures and sound come through.',
  ],
  'picture-and-sound': [
    'your picture and sound are left out for now, so that the figures come through.',
    'the other picture and sound are left out for now, so that the figures come through.',
  ],
};

/** What is left out because the line is poor; null for nothing. */
export function leftOutSentence(own: LeftOut, other: LeftOut): string | null {
  const parts = [
    ...(own === 'none' ? [] : [LEFT_WORDS[own][0]]),
    ...(other === 'none' ? [] : [LEFT_WORDS[other][1]]),
  ];
  return parts.length === 0 ? null : `The line is poor: ${parts.join(' And ')}`;
}

const END_SENTENCES: Readonly<Record<LinkEnd, string>> = {
  here: 'You ended the consult.',
  there: 'The other side ended the consult.',
  'phrase-differs':
    'The consult was ended, because the words were not the same: somebody may sit in between. Nothing was seen, heard or measured. Make a new invitation and send it by another way.',
  hostile:
    'The consult was ended, because what came from the other side could not be read, again and again. What was recorded is kept. Begin it anew; if that happens again, update both sides.',
  'no-way':
    'No way was found to the other side in half a minute. Both sides must be in the same network, or one of them must be reachable from outside. Make a new invitation and answer it at once.',
  'other-version':
    'The other side has another version of the program. Load the page again on both sides, then begin anew.',
};

/** Why a consult is over, and what to do. */
export function linkEndSentence(why: LinkEnd): string {
  return END_SENTENCES[why];
}

const MESSAGE_SENTENCES: Readonly<Record<MessageProblem, string>> = {
  'too-long': 'Something longer than any message came from the other side. It was left out.',
  'not-read': 'Something that is no message came from the other side. It was left out.',
  'wrong-side': 'The other side said something that only this side may say. It was left out.',
  'too-early': 'Something came before the check phrase was answered. It was left out.',
  'out-of-order': 'Something came out of its order. It was left out.',
};

/** Who is asked for a way to the other side, or why the text that names them is not used. */
export function wayServersSentence(read: Reading<readonly WayServer[], string>): string {
  if (!read.ok)
    return `"${read.problem}" is no address of such a server, or its name and password are missing behind it. None is asked until this is mended.`;
  if (read.value.length === 0)
    return 'None is asked. Both sides must be in the same network, or one of them reachable from outside. Your clinic may run such a server; write it as stun:ADDRESS or turn:ADDRESS NAME PASSWORD.';
  const addresses = read.value.map(({ urls }) => urls).join(', ');
  return `Asked for a way: ${addresses}. They learn the address of this machine; what goes through a turn server is sealed.`;
}

/** What happened to a message that was refused. */
export function messageSentence(problem: MessageProblem): string {
  return MESSAGE_SENTENCES[problem];
}

/** What is asked for, in one line: "Isometric hold, right arm, 90 ± 10 deg". */
export function prescriptionWords({ exercise, side, thresholds, dose }: Prescription): string {
  const { targetAngleDeg, toleranceDeg } = thresholds;
  const target = exercise === 'hold' ? `, ${targetAngleDeg} ± ${toleranceDeg}\u00a0deg` : '';
  return `${PLANNED_EXERCISE_WORDS[exercise]}, ${side} arm${target}${dose === null ? '' : `, ${dose}`}`;
}

/** What is sent to the other side, as a list for a sentence. */
export function consentWords({ picture, measuring, record }: Consent): string {
  const sent = [
    ...(picture ? ['picture', 'sound'] : []),
    ...(measuring ? ['measured figures'] : []),
    ...(record ? ['the record'] : []),
  ];
  const [last = 'nothing', ...others] = sent.toReversed();
  return others.length === 0 ? last : `${others.toReversed().join(', ')} and ${last}`;
}

/** How late the figures are, with how sure that is; null before it is known. */
export function delayWords(delayMs: number, { uncertaintyMs }: ClockOffset): string {
  return `${(Math.max(0, delayMs) / 1000).toFixed(2)} s ± ${(uncertaintyMs / 1000).toFixed(2)}`;
}

type Passing = 'none' | 'passing' | 'kept' | 'not-kept';

/** What became of the records on their way from this side and to it; null where none is. */
export function passingSentence(
  side: ConsultSide,
  { sending, taking }: { readonly sending: Passing; readonly taking: Passing },
): string | null {
  const other = side === 'therapist' ? 'patient' : 'therapist';
  const sentences = [passedOn(other, sending), takenIn(other, taking)].filter((each) => each !== null);
  return sentences.length === 0 ? null : sentences.join(' ');
}

function passedOn(other: ConsultSide, kind: Passing): string | null {
  switch (kind) {
    case 'none':
      return null;
    case 'passing':
      return `The record of the session is on its way to your ${other}. Keep this page open.`;
    case 'kept':
      return `Your ${other} has the record of the session as it is kept here, with what was said. Nobody has signed it.`;
    case 'not-kept':
      return `Your ${other} does not have the whole record. It is kept here: send it as a package from Exchange.`;
  }
}

function takenIn(other: ConsultSide, kind: Passing): string | null {
  switch (kind) {
    case 'none':
      return null;
    case 'passing':
      return 'The record of the session is on its way to you. Keep this page open.';
    case 'kept':
      return `The record is kept here as it is at your ${other}’s, with what was said. Nobody has signed it.`;
    case 'not-kept':
      return `The record did not come whole, or could not be kept here. Ask your ${other} to send it as a package.`;
  }
}

const MACHINE_WORDS: Readonly<Record<ConsultSide, string>> = {
  therapist: 'the therapist’s',
  patient: 'the patient’s',
};

/** What an entry of the course says. */
export function contentWords(content: EntryContent): string {
  switch (content.what) {
    case 'consent':
      return `Agreed to be sent: ${consentWords(content.consent)}`;
    case 'prescription':
      return `Asked for: ${prescriptionWords(content.prescription)}`;
    case 'set-asked':
      return content.action === 'stop'
        ? 'Asked to stop the set'
        : `Asked to start a set${content.name === null ? '' : `: ${content.name}`}`;
    case 'set-begun':
      return `Set ${content.setNumber} begun`;
    case 'set-ended':
      return content.repetitions + content.partialRepetitions > 0
        ? `Set ${content.setNumber} ended: ${content.repetitions} repetitions, ${content.partialRepetitions} partial`
        : `Set ${content.setNumber} ended: ${valueWords(content.inRangeSeconds, FORMS.seconds)} in the target range`;
    case 'cue':
      return `Cue: ${content.words}`;
    case 'cue-heard':
      return { voice: 'Cue was spoken', tone: 'Cue was shown, with a tone', caption: 'Cue was shown' }[
        content.by
      ];
    case 'pain-asked':
      return 'Pain asked';
    case 'pain-answered':
      return `Pain: ${content.pain} of 10`;
    case 'note':
      return `Note: ${content.words}`;
    case 'measuring-asked':
      return `Asked to measure on ${MACHINE_WORDS[content.at]} machine`;
    case 'measured-at':
      return `Measured on ${MACHINE_WORDS[content.at]} machine from now on`;
    case 'picture-frozen':
      return `Picture ${content.pictureId} held still`;
    case 'picture-drawn':
      return `On picture ${content.pictureId}: ${content.words}`;
    case 'picture-cleared':
      return `Drawings on picture ${content.pictureId} taken away`;
    case 'picture-noted':
      return `Note to picture ${content.pictureId}: ${content.words}`;
    case 'picture-let-go':
      return `Picture ${content.pictureId} let go`;
    case 'joint-watched':
      return watchedWords(content.joint);
    case 'demonstration-shown':
      return `Shown how it is done: ${PLANNED_EXERCISE_WORDS[content.exercise]}`;
    case 'repetition-asked':
      return `Asked to see again: ${partWords(content)}`;
    case 'repetition-shown':
      return content.frames.length > 0
        ? `Shown again: ${partWords(content)}`
        : `Not there to be shown again: ${partWords(content)}`;
    case 'showing-ended':
      return 'Showing ended';
  }
}

/** Sets and tempo in one line: "3 sets of 8, bend in 3 s, lower in 3 s". */
export function wholeDoseWords(dose: Dose): string {
  return [doseWords(dose), tempoWords(dose)].filter((words) => words !== '').join(', ');
}

/** A hold or a repetition of the consult: "set 2, number 3". */
export function partWords({
  setNumber,
  part,
}: {
  readonly setNumber: number;
  readonly part: number;
}): string {
  return `set ${setNumber}, number ${part}`;
}

/** Whether the figure stands on the right received picture, and what to do where it cannot. */
export function matchSentence(state: 'none' | 'looking' | 'matched' | 'behind' | 'cannot'): string {
  switch (state) {
    case 'behind':
      return 'The picture has stopped or comes late. The numbers are the newest ones, and the figure stands beside the picture.';
    case 'matched':
      return 'Figure and numbers belong to the picture that you see.';
    case 'cannot':
      return 'This browser does not tell which picture it shows. So the figure stands beside the picture, which comes later than the figure. A current Chrome, Edge or Safari can lay it on the picture.';
    default:
      return 'Which picture a figure belongs to is being found out. Until then the figure stands beside the picture.';
  }
}
