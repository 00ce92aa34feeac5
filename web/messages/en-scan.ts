/** Text about reading a label with the camera. */
export const scanText = {
  open: 'Scan a label',
  title: 'Scan a label',
  hold: 'Hold the code of the label in front of the camera.',
  picture: 'Picture of the camera',
  noCamera: 'The camera may not be used. Allow it for this page in the browser, or type the tag.',
  close: 'Close',
};
