/** Prints one element of the page and nothing else: `print.css` hides whatever stands beside it. */
export function printAlone(element: HTMLElement): void {
  const copy = element.cloneNode(true) as HTMLElement;
  copy.dataset['printAlone'] = '';
  document.body.append(copy);
  addEventListener('afterprint', () => copy.remove(), { once: true });
  print();
}
