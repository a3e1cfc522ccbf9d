// Langium's parser library needs Object.groupBy, which Node has from version 21.
import 'core-js/actual/object/group-by.js';
