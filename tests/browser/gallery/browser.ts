/** How the gallery starts Chromium, as the other browser tests do. */
import { CHROMIUM_PATH } from '../../../src/cli/debian-packages';
import { CHROMIUM_ARGS } from '../chromium-args';

export const BROWSER = { executablePath: CHROMIUM_PATH, args: [...CHROMIUM_ARGS] };
