export { Button } from "./button.tsx";
export { Choice } from "./choice.tsx";
export { NumberField, TextField } from "./field.tsx";
export { Notice, ProblemNotice } from "./notice.tsx";
export { usePedal } from "./pedal.ts";
export { Sheet } from "./sheet.tsx";
export { Stepper } from "./stepper.tsx";
export { Why } from "./why.tsx";
