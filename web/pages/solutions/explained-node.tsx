// Fetched with the first number that is opened.
export { ExplainedNode as default } from '../../parts/explanation-tree.tsx';
