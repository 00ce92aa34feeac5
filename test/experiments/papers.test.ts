/** Papers of a class from numbers, read with the programs of others. */
import { describe, expect, it } from 'vitest';
import { reportPdf } from '../../server/experiments/papers/report.ts';
import { sheetPdf } from '../../server/experiments/papers/sheet.ts';
import { reasonWords, optionWords } from '../../server/experiments/papers/words.ts';
import { worksheetPdf } from '../../server/experiments/papers/worksheet.ts';
import { figuresOf } from '../../server/experiments/figures-of.ts';
import { checkAnswer, questionsFor } from '../../server/metrology/class/questions.ts';
import { checked, noPdfPrograms, pagesOf, structureOf } from '../certificates/pdf-programs.ts';
import { readJson } from '../metrology/fixture.ts';
import { classOf, ROW, trialOf } from './class-samples.ts';

interface Reference {
  name: string;
  data?: string[][];
}
const { sets } = readJson('tables/nist-strd-anova.json') as { sets: Reference[] };
const measured = (name: string): number[][] =>
  (sets.find((set) => set.name === name)?.data ?? []).map((group) => group.map(Number));

const SOUND = 'No syntax or stream encoding errors found';
const whole = (pages: readonly string[]): string => pages.join(' ');

describe('the report', () => {
  // NIST StRD, one-way analysis of variance, SiRstv: F 1.18046237440255, residual standard deviation 0.104076068334656.
  it('prints the certified F and s_r of a reference class, rounded to two digits', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pages = pagesOf(await reportPdf({ ...classOf(measured('SiRstv')), groupId: null }));
    expect(whole(pages)).toMatch(/Flask on the bench, 200 mL 25 0\.\d\d 0\.10 0\.0\d+ 0\.\d\d 1\.2 0\.\d\d /);
  });

  it('prints of an F in the thousands no digit too many, and of a p near 0 that it is', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const apart = [
      [200.01, 200.02],
      [201.01, 201.02],
      [202.01, 202.02],
    ];
    // By hand: between 2·1²·2/2 = 2, within 3·0.00005/3 = 0.00005, so F is 40,000.
    const text = whole(pagesOf(await reportPdf({ ...classOf(apart), groupId: null })));
    expect(text).toContain(' 40000 < 0.001 ');
    expect(text).toContain('in less than 0.1 % of classes');
  });

  it('says in everyday and in the trade’s words what it prints, and calls no small spread accurate', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const text = whole(pagesOf(await reportPdf({ ...classOf(measured('SiRstv')), groupId: null })));
    for (const said of [
      'How far off on average (bias, trueness)',
      'How far apart (spread s, precision)',
      'repeatability s_r',
      'within-room precision',
      'Which would you take, and why?',
      'this is no certificate of any vessel',
      'Water only.',
    ])
      expect(text).toContain(said);
    expect(text.replace('A small spread alone does not make a result accurate', '')).not.toMatch(/accurate/);
  });

  it('says that a negative s_L² counts as 0, and what one group cannot show', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const close = [
      [199, 201],
      [199.1, 200.9],
    ];
    expect(whole(pagesOf(await reportPdf({ ...classOf(close), groupId: null })))).toContain('negative and counts as 0');
    const alone = whole(pagesOf(await reportPdf({ ...classOf([[199.9]]), groupId: null })));
    expect(alone).toContain('needs 2 fillings');
    expect(alone).toContain('needs 2 groups');
  });

  it('asks about the filling far out by its own number, with and without it, and names what was left out', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const even = [
      [200.01, 199.99, 200.02],
      [199.98, 200.01, 200],
      [200.02, 199.99, 200.01],
    ];
    const sample = classOf(even);
    sample.data.trials.unshift(trialOf(2, 9, 300, { excluded: { cause: 'spill', reason: 'Kim sneezed' } }));
    sample.data.trials.push(trialOf(2, 4, 205));
    const text = whole(pagesOf(await reportPdf({ ...sample, groupId: null })));
    // Means by hand: 2005.03 / 10 with it, 1800.03 / 9 without it.
    expect(text).toMatch(/trial 4 of group 2 205\.0000 far out \(outlier, 1 %\) \+0\.50 \/ \+0\.0033 /);
    expect(text).toContain('Left out: group 2, Flask on the bench, trial 9: water was spilt.');
    expect(text).not.toContain('Kim');
  });

  it(
    'takes one or two pages, and one for each group in the order of their numbers',
    { timeout: 60_000 },
    async (context) => {
      const missing = noPdfPrograms();
      if (missing !== null) return context.skip(missing);
      const rows = ['a', 'b', 'c', 'd'].map((key) => ({ ...ROW, key, label: `Ware ${key}`, toleranceMl: 0.2 }));
      const groups = Array.from({ length: 30 }, () => []);
      const sample = classOf(groups, { rows });
      sample.data.trials.push(
        ...rows.flatMap(({ key: row }, at) =>
          groups.flatMap((_, group) =>
            [1, 2, 3].map((number) =>
              trialOf(group + 1, number, 200 + at / 10 + ((group * 7 + number * 3) % 11) / 50, { row }),
            ),
          ),
        ),
      );
      const pdf = await reportPdf({ ...sample, groupId: null });
      expect(checked(pdf)).toContain(SOUND);
      const pages = pagesOf(pdf);
      expect(pages).toHaveLength(32);
      pages.slice(2).forEach((page, at) => expect(page).toMatch(new RegExp(`Report for the class Group ${at + 1} `)));
      pages.forEach((page, at) => expect(page).toContain(`page ${at + 1} of 32`));
    },
  );

  it('is tagged: headings, tables with their heads, a picture in words for each row', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const structure = structureOf(await reportPdf({ ...classOf(measured('SiRstv')), groupId: null }));
    expect(structure.indexOf('H1')).toBeLessThan(structure.indexOf('H2'));
    for (const tag of ['H3', 'Table', 'TH', 'Figure']) expect(structure).toContain(tag);
    expect(structure.indexOf('"What the class found"')).toBeLessThan(structure.indexOf('Figure'));
    expect(structure.indexOf('"Asked about"')).toBeLessThan(structure.indexOf('"Group 1"'));
  });

  it('gives the same bytes each time', async () => {
    const input = { ...classOf(measured('SiRstv')), groupId: null };
    expect((await reportPdf(input)).equals(await reportPdf(input))).toBe(true);
  });
});

describe('hands against vessels', () => {
  const cells = (volumes: readonly (readonly number[])[]) => {
    const rows = ['a', 'b'].map((key) => ({ ...ROW, key, label: `Flask ${key}` }));
    const sample = classOf([[], []], { rows, design: 'crossed' });
    volumes.forEach((trials, at) =>
      trials.forEach((volumeMl, place) =>
        sample.data.trials.push(trialOf((at % 2) + 1, place + 1, volumeMl, { row: at < 2 ? 'a' : 'b' })),
      ),
    );
    return sample;
  };

  it('are told apart where every group filled every vessel', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const far = cells([
      [200.0, 200.1],
      [200.1, 200.2],
      [203.0, 203.1],
      [203.1, 203.2],
    ]);
    const text = whole(pagesOf(await reportPdf({ ...far, groupId: null })));
    expect(text).toContain('2 groups filled each of 2 vessels 2 times. The vessels differ more than the hands.');
  });

  it('are not told apart while a filling is missing, and it says which', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const text = whole(
      pagesOf(
        await reportPdf({
          ...cells([
            [200, 200.1],
            [200.1, 200.2],
            [203, 203.1],
          ]),
          groupId: null,
        }),
      ),
    );
    expect(text).toContain('Group 2 has no trial with Flask b.');
  });
});

describe('drops', () => {
  it('are told by their size', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const rows = [{ ...ROW, nominalVolumeMl: '1', drops: 20 }];
    const text = whole(
      pagesOf(
        await reportPdf({
          ...classOf(
            [
              [0.9, 1.0],
              [1.0, 1.1],
            ],
            { rows },
          ),
          groupId: null,
        }),
      ),
    );
    // By hand: 1.0 mL of 20 drops is 50 µL a drop, 20 drops to a millilitre.
    expect(text).toMatch(/One drop: 50\.0 µL, spread \S+ µL; 20\.0 drops to a millilitre, from 20 drops a filling\./);
  });
});

/** Two kinds of ware for one volume, so that there is something to choose. */
const choice = () => {
  const flask = { ...ROW, key: 'flask', kind: 'volumetric-flask', nominalVolumeMl: '25', label: 'Flask' } as const;
  const pipette = {
    ...flask,
    key: 'pipette',
    kind: 'single-volume-pipette',
    basis: 'deliver',
    label: 'Pipette',
  } as const;
  const sample = classOf(
    [
      [25.01, 25.0],
      [24.99, 25.01],
    ],
    { rows: [flask, pipette] },
  );
  const poured = [24.95, 24.97, 24.96, 24.98];
  poured.forEach((volumeMl, at) =>
    sample.data.trials.push(trialOf((at % 2) + 1, 1 + Math.floor(at / 2), volumeMl, { row: 'pipette' })),
  );
  return sample;
};

describe('the worksheet', () => {
  it('asks every question the data can answer, and tells no answer', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = choice();
    const pdf = await worksheetPdf({ ...sample, answers: false });
    expect(checked(pdf)).toContain(SOUND);
    const text = whole(pagesOf(pdf));
    const questions = questionsFor(figuresOf(sample.data, 'corrected'));
    expect(questions.length).toBeGreaterThan(6);
    for (const { ask } of questions) expect(text).toContain(ask.slice(0, 60));
    // Bias of the pipette by hand: 24.965 − 25.
    for (const answer of ['What decides', '−0.035', '200.0000 g']) expect(text).not.toContain(answer);
    expect(text.match(/Because:/g)).toHaveLength(questions.length);
  });

  it('has a copy whose answers are right by the check that groups have', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = choice();
    const text = whole(pagesOf(await worksheetPdf({ ...sample, answers: true })));
    const names = new Map([
      ['Flask, 25 mL', 'flask'],
      ['Pipette, 25 mL', 'pipette'],
      ...Object.entries(optionWords).map(([key, words]) => [words, key] as const),
    ]);
    const printed = [...text.matchAll(/Answer: ([^.]+?)\. What decides: ([^.]+?)\./g)];
    const questions = questionsFor(figuresOf(sample.data, 'corrected'));
    expect(printed).toHaveLength(questions.length);
    questions.forEach((question, at) => {
      const [, answers = '', reasons = ''] = printed[at] ?? [];
      const said = reasons.split('; ');
      const codes = (Object.keys(reasonWords) as (keyof typeof reasonWords)[]).filter((code) =>
        said.includes(reasonWords[code]),
      );
      expect(codes).toHaveLength(said.length);
      for (const answer of answers.split(' or '))
        for (const reason of codes) {
          const given = { option: names.get(answer) ?? answer, reason };
          expect({ id: question.id, given, ...checkAnswer(question, given) }).toMatchObject({
            ...{ optionRight: true, reasonRight: true },
          });
        }
    });
    // Bias of the pipette by hand: 24.965 − 25.
    expect(text).toMatch(/Pipette, 25 mL −0\.035/);
  });

  it('says so while nobody has weighed', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const pages = pagesOf(await worksheetPdf({ ...classOf([[], []]), answers: true }));
    expect(pages).toHaveLength(1);
    expect(pages[0]).toContain('Nobody has weighed yet.');
  });
});

describe('recording sheets', () => {
  it('are one page a group, as many as are expected, with room for every planned filling', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = classOf([[], []]);
    sample.plan.expectedGroups = 5;
    sample.plan.cautionNote = 'The bin for broken glass is by the door.';
    const pdf = await sheetPdf(sample);
    expect(checked(pdf)).toContain(SOUND);
    const pages = pagesOf(pdf);
    expect(pages).toHaveLength(5);
    pages.forEach((page, at) => {
      expect(page).toContain(`Group ${at + 1} `);
      for (const said of ['We expect mL', 'Empty g', 'no scale to read', 'Never pipette by mouth', 'by the door'])
        expect(page).toContain(said);
      expect(page.match(/Flask on the bench \d/g)).toHaveLength(ROW.trialsPerGroup);
    });
  });

  it('stay one page a group for the longest plan a lesson holds', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const rows = ['a', 'b', 'c', 'd', 'e', 'f'].map((key) => ({ ...ROW, key, trialsPerGroup: 3 }));
    expect(pagesOf(await sheetPdf(classOf([[], []], { rows })))).toHaveLength(2);
  });

  it('ask for no prediction where none is wanted', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = classOf([[]]);
    sample.plan.asks = { prediction: false, within: true, sureness: true };
    expect(whole(pagesOf(await sheetPdf(sample)))).not.toContain('We expect');
  });
});

describe('what is invented', () => {
  it('is marked on every page of every paper', async (context) => {
    const missing = noPdfPrograms();
    if (missing !== null) return context.skip(missing);
    const sample = choice();
    const papers = async (marks: { madeUp: boolean; demonstration: boolean }) => {
      const input = { ...sample, demonstration: marks.demonstration, data: { ...sample.data, madeUp: marks.madeUp } };
      const made = [reportPdf({ ...input, groupId: null }), reportPdf({ ...input, groupId: 'g1' }), sheetPdf(input)];
      const sheets = [false, true].map((answers) => worksheetPdf({ ...input, answers }));
      return (await Promise.all([...made, ...sheets])).flatMap(pagesOf);
    };
    const [madeUp, demonstration] = [
      'Made-up class: the program invented every reading',
      'Invented data: demonstration only',
    ];
    for (const page of await papers({ madeUp: true, demonstration: true })) {
      expect(page).toContain(madeUp);
      expect(page).toContain(demonstration);
    }
    for (const page of await papers({ madeUp: false, demonstration: false })) expect(page).not.toMatch(/invented/i);
  });
});
