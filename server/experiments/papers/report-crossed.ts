/** Hands against vessels, where every group filled every vessel. */
import { STYLES } from '../../certificates/pdf/ink.ts';
import type { Paper } from '../../certificates/pdf/paper.ts';
import { table, type Row } from '../../certificates/pdf/table.ts';
import { crossed, type Crossed } from '../../metrology/class/crossed.ts';
import type { VarianceComponent } from '../../metrology/class/one-way.ts';
import { crossedCells } from '../../metrology/class/weighed.ts';
import { significant } from '../../metrology/display.ts';
import type { ClassData } from '../contract-class.ts';

const lineOf = (what: string, component: VarianceComponent | null): Row[] =>
  component === null
    ? []
    : [
        {
          cells: [what, significant(component.sdMl, 2)],
          ...(component.negative ? { notes: ['Its variance comes out negative and counts as 0.'] } : {}),
        },
      ];

const sentence = ({ components: { hands, vessels } }: Crossed): string => {
  if (hands.sdMl === vessels.sdMl) return 'Hands and vessels differ equally.';
  return vessels.sdMl > hands.sdMl
    ? 'The vessels differ more than the hands.'
    : 'The hands differ more than the vessels.';
};

export const crossedSection = (paper: Paper, data: ClassData): void => {
  paper.section('Hands or vessels', 80);
  const found = crossed(crossedCells(data, 'corrected'));
  if (found.outcome === 'not-crossed') {
    paper.paragraph(`The two cannot be told apart yet. ${found.detail}`);
    return;
  }
  const { hands, vessels, interaction, repeatability } = found.components;
  paper.paragraph(
    `${found.hands} groups filled each of ${found.vessels} vessels ${found.trialsPerCell} times. ${sentence(found)}`,
  );
  const columns = [
    { head: 'Spread from', share: 30 },
    { head: 's mL', share: 10, align: 'right' },
  ] as const;
  table(paper, columns, [
    ...lineOf('hands', hands),
    ...lineOf('vessels', vessels),
    ...lineOf('a hand that treats one vessel otherwise (interaction)', interaction),
    ...lineOf('the same hand again with the same vessel (repeatability)', repeatability),
  ]);
  paper.paragraph(
    'Two-way analysis of variance, hands and vessels both drawn at random. From few vessels their spread is known only roughly.',
    STYLES.smallQuiet,
  );
};
