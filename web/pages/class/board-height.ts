/** How high the pictures of a board are, so that all rows, their axis and the key of the marks are in sight at once. Pure. */
import { NARROW_PX } from './board-picture.tsx';

interface BoardRoom {
  rows: number;
  isGroups: boolean;
  /** A line below the key says how the axis goes. */
  hasSteps: boolean;
  /** Where the rows begin, from the top of the page. */
  top: number;
  windowHeight: number;
  /** Of a picture. */
  width: number;
}

/** The axis and the key of the marks. */
const BELOW_PX = 104;
const STEPS_PX = 36;
/** The numbers of a row, its line and what is free around it, on a projector; less on smaller screens. */
const BESIDE_PX = 54;
const BESIDE_GROUP_PX = 10;

/** What the screen leaves for a picture, within what can be read and what is worth looking at. */
export function pictureHeight({ rows, isGroups, hasSteps, top, windowHeight, width }: BoardRoom): number {
  if (width < NARROW_PX) return isGroups ? 52 : 84;
  const room = windowHeight - top - BELOW_PX - (hasSteps ? STEPS_PX : 0);
  const share = room / Math.max(1, rows) - (isGroups ? BESIDE_GROUP_PX : BESIDE_PX);
  const [least, most] = isGroups ? [44, 110] : [72, 260];
  return Math.floor(Math.max(least, Math.min(most, share)));
}
