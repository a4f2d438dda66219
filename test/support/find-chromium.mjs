// Where a browser to test in may be. Plain Node, because `npm test` asks before anything is installed.
import { accessSync, constants } from 'node:fs';

const USUAL_PLACES = [
  '/usr/bin/chromium',
  '/usr/bin/chromium-browser',
  '/usr/bin/google-chrome',
  '/usr/bin/google-chrome-stable',
  '/snap/bin/chromium',
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:\\Program Files\\Google\\Chrome\\Application\\chrome.exe',
  'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe',
];

export const HOW_TO_GET_ONE =
  'No Chromium is here for the browser tests. Install one (Debian, Ubuntu: apt-get install chromium) or name one in the variable CHROMIUM, and run npm test again.';

function isThere(path) {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export function findChromium() {
  const named = process.env['CHROMIUM'];
  return [...(named ? [named] : USUAL_PLACES)].find(isThere) ?? null;
}
