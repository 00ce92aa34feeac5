/** Stands in the pages for @stdlib/assert-has-generator-support, which asks with `eval`: the policy of the pages forbids it. */
module.exports = () => true;
