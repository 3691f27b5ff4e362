/** The models that are served against the checksums beside them, and those of docs/third-party.md. */
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { readSpeechFile } from '../../src/cli/sound-files';

const FOLDER = 'public/model';

it('[VOI77] every model that is served is the one whose checksum stands beside it and in the list of foreign parts', () => {
  const sums = readFileSync(`${FOLDER}/SHA256SUMS`, 'utf8').trimEnd().split('\n');
  const listed = sums.map((line) => line.split('  ')[1] ?? '');
  const models = readdirSync(FOLDER).filter((name) => /\.(onnx|json)$/.test(name));
  expect(listed).toEqual(models.sort());
  const made = listed.map((name) => {
    const hash = createHash('sha256').update(readFileSync(`${FOLDER}/${name}`));
    return `${hash.digest('hex')}  ${name}`;
  });
  expect(made).toEqual(sums);
  const thirdParty = readFileSync('docs/third-party.md', 'utf8').split('\n');
  for (const line of sums) expect(thirdParty).toContain(line);
});

it('[VOI77] the text model is the one whose checksums stand in the list of foreign parts', async () => {
  // The package's own integrity hash is in package-lock.json; these are of the files that are used of it.
  const thirdParty = readFileSync('docs/third-party.md', 'utf8').split('\n');
  for (const name of ['encoder_model.onnx', 'decoder_model_merged.onnx']) {
    const hash = createHash('sha256').update(await readSpeechFile(`text-model/${name}`));
    expect(thirdParty).toContain(`${hash.digest('hex')}  text-model/${name}`);
  }
});
