export { type Interface, interfacesOf } from './interfaces';
export { peopleIn } from './people';
export { type Answers, DEFAULT_ANSWERS, fileNameOf, newRig } from './template';
