/** Text as it may stand in SVG and HTML. */
export function escaped(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/</g, '&lt;').replace(/>/g, '&gt;').replace(/"/g, '&quot;');
}

type Attributes = Readonly<Record<string, string | number>>;

/** An element with children that are markup already. */
export function element(name: string, attributes: Attributes, ...children: readonly string[]): string {
  const listed = Object.entries(attributes).map(
    ([key, value]) => ` ${key}="${typeof value === 'number' ? short(value) : escaped(value)}"`,
  );
  return `<${name}${listed.join('')}>${children.join('')}</${name}>`;
}

/** A number with a tenth of a pixel, which is as fine as anything is drawn. */
export function short(value: number): string {
  return String(Math.round(value * 10) / 10);
}
