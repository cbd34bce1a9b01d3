import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import { previewJpeg } from '../../analysis/photo/preview.ts';
import { demoFiles } from '../helpers/serverUnderTest.ts';
import { damaged, damages } from './damage.ts';
import { drawn, type Family } from './family.ts';
import { photoBases } from './photoBases.ts';
import { photoCorpus } from './photoCorpus.ts';

/** Length of the corpus; a test holds it to what the corpus has. */
export const CORPUS_COUNT = 254;

const corpus: Family = {
  name: 'photos made by hand',
  count: CORPUS_COUNT,
  open: async () => {
    const files = await photoCorpus();
    return async (i) => {
      await previewJpeg(files[i].bytes, { widthPx: 1400 });
      return 'shown';
    };
  },
  describe: async (i) => (await photoCorpus())[i].name,
};

const damagedPhotos: Family = {
  name: 'photos, damaged',
  count: 8000,
  open: async () => {
    const bases = await photoBases();
    return async (i) => {
      await decodePhoto(damaged(bases[i % bases.length].bytes, drawn(damages, i)));
      return 'decoded';
    };
  },
  describe: async (i) => {
    const bases = await photoBases();
    return `${bases[i % bases.length].name}: ${JSON.stringify(drawn(damages, i))}`;
  },
};

const damagedStrips: Family = {
  name: 'photos of strips, damaged, read whole',
  count: 240,
  open: async () => {
    const hemp = demoFiles('hemp-banner-blue');
    const strip = parseStrip(JSON.parse(hemp.strip));
    const marks = parseMarks(JSON.parse(hemp.marks));
    return async (i) => {
      const photo = damaged(Buffer.from(hemp.photo), drawn(damages, 500_000 + i));
      // One in four without marks, so that the finder sees torn pictures too.
      const { curve } = await readStrip(photo, strip, i % 4 === 0 ? {} : { marks });
      return `read, ${curve.kind}`;
    };
  },
};

export const photoFamilies: readonly Family[] = [corpus, damagedPhotos, damagedStrips];
