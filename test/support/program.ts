import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { onTestFinished, vi } from 'vitest';

export interface Started {
  readonly child: ChildProcess;
  /** Everything it wrote to stdout and stderr. */
  readonly said: () => string;
  /** Resolves with the exit code. */
  readonly ended: Promise<number | null>;
}

/** Starts the program from its source, for this machine alone; it is ended with the test. */
export function startProgram(env: Record<string, string>): Started {
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
    env: { ...process.env, HOST: '127.0.0.1', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let text = '';
  for (const stream of [child.stdout, child.stderr]) {
    stream.on('data', (chunk: Buffer) => (text += chunk.toString()));
  }
  onTestFinished(() => void child.kill('SIGKILL'));
  const ended = once(child, 'exit').then(([code]) => code as number | null);
  return { child, said: () => text, ended };
}

/** Where it says that it is open. */
export async function addressOf({ said }: Started): Promise<string> {
  await vi.waitFor(
    () => {
      if (!said().includes('Partbook is open at')) throw new Error(said() || 'not open yet');
    },
    { timeout: 45_000 },
  );
  return /http:\/\/localhost:\d+/.exec(said())?.[0] ?? '';
}
