import { resolve } from 'node:path';
import { describe, expect, it } from 'vitest';
import { HELP, readArguments } from '../../../scripts/measure/arguments.ts';

const HERE = resolve('/somewhere/else');
const FULL = ['clip.mp4', '--exercise', 'band-curl', '--side', 'left'];

describe('the arguments of measure', () => {
  it('takes paths from where the person was', () => {
    expect(readArguments([...FULL, '--out', 'results'], HERE)).toEqual({
      kind: 'run',
      run: {
        input: resolve(HERE, 'clip.mp4'),
        out: resolve(HERE, 'results'),
        settings: { exercise: 'band-curl', side: 'left', variant: null, statureCm: null },
        rateHz: 15,
        network: 'full',
        workers: null,
      },
    });
  });

  it('leaves absolute paths alone and writes to "out" when nothing else is asked for', () => {
    const asked = readArguments([resolve('/clips'), '--exercise=hold', '--side=right'], HERE);
    expect(asked).toMatchObject({ run: { input: resolve('/clips'), out: resolve(HERE, 'out') } });
  });

  it('takes variant and stature', () => {
    const asked = readArguments([...FULL, '--variant', 'turning', '--stature-cm', '171.5'], HERE);
    expect(asked).toMatchObject({ run: { settings: { variant: 'turning', statureCm: 171.5 } } });
  });

  it('takes rate, network and number of workers', () => {
    const asked = ['--rate', '7.5', '--network', 'library-full', '--workers', '2'];
    expect(readArguments([...FULL, ...asked], HERE)).toMatchObject({
      run: { rateHz: 7.5, network: 'library-full', workers: 2 },
    });
    expect(readArguments([...FULL, '--rate', 'all'], HERE)).toMatchObject({ run: { rateHz: null } });
  });

  it.each([
    '--exercise',
    '--side',
    '--variant',
    '--stature-cm',
    '--rate',
    '--network',
    '--workers',
    '--out',
    '--help',
  ])('explains %s in its help', (name) => {
    expect(readArguments(['--help'], HERE)).toEqual({ kind: 'help' });
    expect(HELP).toContain(name);
  });

  it.each([
    ['no clip', ['--exercise', 'hold', '--side', 'left'], /clip or a folder/],
    ['two clips', [...FULL, 'second.mp4'], /"second.mp4" is one too many/],
    ['no exercise', ['clip.mp4', '--side', 'left'], /--exercise/],
    ['no side', ['clip.mp4', '--exercise', 'hold'], /--side/],
    ['an unknown exercise', ['clip.mp4', '--exercise', 'row', '--side', 'left'], /"row".*hold, body-curl/],
    ['an unknown side', ['clip.mp4', '--exercise', 'hold', '--side', 'both'], /"both".*left or right/],
    ['an unknown variant', [...FULL, '--variant', 'flat'], /"flat".*supinated or turning/],
    ['a height in metres', [...FULL, '--stature-cm', '1.71'], /"1.71".*80 and 250/],
    ['a height that is no number', [...FULL, '--stature-cm', 'tall'], /"tall"/],
    ['an empty height', [...FULL, '--stature-cm', ''], /centimetres/],
    ['a rate of nothing', [...FULL, '--rate', '0'], /"0" is no rate/],
    ['a rate that is no number', [...FULL, '--rate', 'most'], /"most".*"all"/],
    ['an unknown network', [...FULL, '--network', 'huge'], /"huge".*lite, full, heavy/],
    ['half a worker', [...FULL, '--workers', '1.5'], /"1.5".*1 to 8/],
    ['an unknown option', [...FULL, '--fast'], /--fast/],
    ['an option without its value', [...FULL, '--out'], /--out/],
  ])('refuses %s with a sentence', (_, args, sentence) => {
    const asked = readArguments(args, HERE);
    expect(asked.kind).toBe('wrong');
    expect(asked).toMatchObject({ sentence: expect.stringMatching(sentence) as unknown });
  });
});
