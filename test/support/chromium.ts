import { chromium, type Browser } from 'playwright-core';
import { findChromium, HOW_TO_GET_ONE } from './find-chromium.mjs';

export { findChromium };

const QUIET = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-dev-shm-usage',
  // Sound is measured without a hand on the mouse.
  '--autoplay-policy=no-user-gesture-required',
];

/** Starts the browser without a window. @throws where there is none, saying how to get one. */
export function launchChromium(): Promise<Browser> {
  const executablePath = findChromium();
  if (!executablePath) throw new Error(HOW_TO_GET_ONE);
  return chromium.launch({ executablePath, headless: true, args: QUIET });
}
