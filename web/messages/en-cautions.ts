/** What can happen at the bench, short, at the step where it matters. */
export const cautionsText = {
  lookFirst: 'Look first.',
  lookFirstWhat:
    'Check the vessel for chips, cracks and scratches before you handle it. Damaged ware is taken out of use, not calibrated; broken glass is never picked up by hand.',
  pipetteCaution: 'Never pipette by mouth.',
  pipetteCautionWhat: 'Use a filler. Push it on near the end of the pipette, with the hand close to it, without force.',
  buretteCaution: 'Fill a burette below eye level.',
  buretteCautionWhat:
    'Take it down, or the stand to the floor, stopcock closed and a beaker below; take the funnel off before you set zero.',
  largeCaution: 'Two hands for a litre and more.',
  largeCautionWhat: 'Carry it by body and neck, with the stopper tied or out.',
  spillCaution: 'Water at the balance.',
  spillCautionWhat:
    'After a spill stop, keep wet hands off mains plugs and cables, and dry the balance with a cloth as its maker says. A wet floor is slippery.',
};
