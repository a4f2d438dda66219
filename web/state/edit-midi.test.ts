import { afterEach, describe, expect, it, vi } from 'vitest';
import { hasMidi, InStep, keyOf, MidiKeyboard, type MidiKey } from './edit-midi.svelte.ts';

afterEach(() => vi.unstubAllGlobals());

/** Ports as Web MIDI shows them: a map of event targets (W3C Web MIDI API, 5). */
function fakeMidi(names: readonly string[]) {
  const ports = names.map((name) => Object.assign(new EventTarget(), { name }));
  const inputs = new Map(ports.map((port, i) => [String(i), port]));
  const access = Object.assign(new EventTarget(), { inputs });
  vi.stubGlobal('navigator', { requestMIDIAccess: () => Promise.resolve(access) });
  const say = (port: number, ...data: number[]): void => {
    const event = Object.assign(new Event('midimessage'), { data: new Uint8Array(data) });
    ports[port]?.dispatchEvent(event);
  };
  return { access, inputs, say };
}

// MIDI 1.0 Detailed Specification, table II: 9n note on, 8n note off; a note on of velocity 0 is a note off.
describe('A MIDI message', () => {
  it.each([
    [[0x90, 60, 80], { midi: 60, down: true, at: 5 }],
    [[0x93, 61, 1], { midi: 61, down: true, at: 5 }],
    [[0x80, 60, 64], { midi: 60, down: false, at: 5 }],
    [[0x90, 60, 0], { midi: 60, down: false, at: 5 }],
    [[0xb0, 64, 127], null],
    [[0xfe], null],
    [[], null],
  ])('%j is %o', (data, key) => {
    expect(keyOf(new Uint8Array(data), 5)).toEqual(key);
  });
});

describe('Keys played in step', () => {
  const down = (midi: number, at: number): MidiKey => ({ midi, down: true, at });
  const up = (midi: number, at: number): MidiKey => ({ midi, down: false, at });

  it('are one note after the other, also where one is held into the next', () => {
    const inStep = new InStep();
    expect(inStep.hear(down(60, 0))).toEqual({ midi: 60, add: false });
    expect(inStep.hear(down(62, 300))).toEqual({ midi: 62, add: false });
    expect(inStep.hear(up(60, 320))).toBeNull();
  });

  it('are one chord where they are struck together', () => {
    const inStep = new InStep();
    inStep.hear(down(60, 0));
    expect(inStep.hear(down(64, 30))).toEqual({ midi: 64, add: true });
    expect(inStep.hear(down(67, 60))).toEqual({ midi: 67, add: true });
  });

  it('are two notes where the first was let go, however quick', () => {
    const inStep = new InStep();
    inStep.hear(down(60, 0));
    inStep.hear(up(60, 20));
    expect(inStep.hear(down(62, 40))).toEqual({ midi: 62, add: false });
  });
});

describe('The keyboards at a device', () => {
  it('are heard once they are asked for, and no more after that was ended', async () => {
    const { say } = fakeMidi(['A stage piano']);
    const heard: number[] = [];
    const keyboard = new MidiKeyboard(({ midi }) => heard.push(midi));
    say(0, 0x90, 60, 80);
    await keyboard.listen();
    expect(keyboard.names).toEqual(['A stage piano']);
    say(0, 0x90, 62, 80);
    keyboard.stop();
    say(0, 0x90, 64, 80);
    expect(heard).toEqual([62]);
    expect(keyboard.state).toBe('off');
  });

  it('may be plugged in later', async () => {
    const { access, inputs } = fakeMidi([]);
    const keyboard = new MidiKeyboard(() => undefined);
    await keyboard.listen();
    expect(keyboard.names).toEqual([]);
    inputs.set('9', Object.assign(new EventTarget(), { name: 'A small one' }));
    access.dispatchEvent(new Event('statechange'));
    expect(keyboard.names).toEqual(['A small one']);
  });

  it('are not heard where they were let go while the browser was still asking', async () => {
    const { say } = fakeMidi(['A stage piano']);
    const heard: number[] = [];
    const keyboard = new MidiKeyboard(({ midi }) => heard.push(midi));
    const asked = keyboard.listen();
    keyboard.stop();
    await asked;
    say(0, 0x90, 60, 80);
    expect([keyboard.state, heard]).toEqual(['off', []]);
  });

  it('are not heard where the browser or a person says no, which is known', async () => {
    vi.stubGlobal('navigator', { requestMIDIAccess: () => Promise.reject(new Error('no')) });
    const keyboard = new MidiKeyboard(() => undefined);
    await keyboard.listen();
    expect(keyboard.state).toBe('refused');
    vi.stubGlobal('navigator', {});
    expect(hasMidi()).toBe(false);
  });
});
