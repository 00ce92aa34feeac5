import { text } from '../messages/en.ts';
import { useCalibration } from '../queries.ts';
import PointBudget from './budget.tsx';
import { Loaded } from './loading.tsx';

/** The budget of a calibration of which the page holds a summary only. */
export default function BudgetOf({ calibrationId, pointMl }: { calibrationId: string; pointMl: string }) {
  const calibration = useCalibration(calibrationId);
  return (
    <Loaded query={calibration} what={text.shell.page}>
      {(loaded) => {
        const point = loaded.points.find((one) => Number(one.pointMl) === Number(pointMl));
        return point ? <PointBudget calibration={loaded} point={point} /> : null;
      }}
    </Loaded>
  );
}
