import type { LabelFacts } from '../../../server/labels/contract.ts';
import { labelPlaces, SHEET_SIZES, type SheetLayout } from '../../plots/label-sheet.ts';
import { labelsText as words } from '../../messages/en-labels.ts';

/** The first sheet as it comes out of the printer: gone labels empty, those to print with their tags. */
export function SheetPreview({ layout, labels }: { layout: SheetLayout; labels: readonly LabelFacts[] }) {
  const { widthMm, heightMm } = SHEET_SIZES[layout.paper];
  const all = labelPlaces({ ...layout, firstLabel: 1 }, layout.columns * layout.rows);
  return (
    <svg
      className="label-sheet"
      viewBox={`0 0 ${widthMm} ${heightMm}`}
      role="img"
      aria-label={`${words.preview}: ${labels.map(({ tag }) => tag).join(', ')}`}
    >
      <rect className="label-paper" width={widthMm} height={heightMm} />
      {all.map(({ xMm, yMm }, index) => {
        const label = labels[index - layout.firstLabel + 1];
        const side = Math.min(layout.labelHeightMm - 4, 20);
        return (
          <g key={index} transform={`translate(${xMm} ${yMm})`}>
            <rect
              className={label ? 'label-box' : 'label-box label-free'}
              width={layout.labelWidthMm}
              height={layout.labelHeightMm}
            />
            {label && (
              <>
                <rect className="label-code" x={2} y={2} width={side} height={side} />
                <text className="label-tag" x={side + 4} y={7}>
                  {label.tag.length > 14 ? `${label.tag.slice(0, 13)}…` : label.tag}
                </text>
              </>
            )}
          </g>
        );
      })}
    </svg>
  );
}
