// Measures a page that a browser has laid out, opened as on paper, and tells the page around it what is wrong with it:
// what is wider than the page, text on text, and text that WCAG 2.1 (W3C, 2018), success criterion 1.4.3, finds too faint.
addEventListener('load', () => {
    const faults = new Set();
    const quoted = (text) => '"' + text.trim().replace(/\s+/g, ' ').slice(0, 40) + '"';
    document.querySelectorAll('details').forEach((d) => { d.open = true; });

    // Overflow: nothing but what lies in a box that scrolls, and that the keyboard reaches, is wider than the page.
    const root = document.documentElement;
    if (root.scrollWidth > root.clientWidth)
        faults.add(`overflow: the page is ${root.scrollWidth} px wide in a window of ${root.clientWidth} px`);
    for (const box of document.querySelectorAll('body, body *')) {
        if (box.closest('svg')) continue;
        const style = getComputedStyle(box);
        const scrolls = style.overflowX === 'auto' || style.overflowX === 'scroll';
        if (scrolls && box.scrollWidth > box.clientWidth + 1) {
            if (box.tabIndex < 0 || !box.getAttribute('aria-label')) faults.add('overflow: a box scrolls without focus or label');
            if (box.querySelector('table')) faults.add(`overflow: a table scrolls sideways: ${quoted(box.textContent)}`);
        }
        if (!scrolls && style.display !== 'inline' && box.scrollWidth > box.clientWidth + 1 && box.clientWidth > 1)
            faults.add(`overflow: ${box.tagName} holds more than it is wide: ${quoted(box.textContent)}`);
    }

    // Text with where it stands.
    const texts = [];
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    while (walker.nextNode()) {
        const node = walker.currentNode, parent = node.parentElement;
        if (!node.data.trim() || parent.closest('title, desc, style, script')) continue;
        if (parent.closest('svg')) {
            texts.push({node, parent, box: parent.getBoundingClientRect(), svg: parent.closest('svg')});
            continue;
        }
        const range = document.createRange();
        range.selectNodeContents(node);
        for (const box of range.getClientRects())
            if (box.width > 1 && box.height > 1 && !parent.closest('thead')?.matches(':not(:has(*))'))
                texts.push({node, parent, box, svg: null});
    }
    const seen = texts.filter((t) => t.box.width > 1 && t.box.height > 1 && getComputedStyle(t.parent).clipPath === 'none' &&
        !(t.parent.closest('thead') && getComputedStyle(t.parent.closest('thead')).clipPath !== 'none'));

    // Overlap: by more than the leading around letters.
    seen.sort((a, b) => a.box.top - b.box.top);
    for (let i = 0; i < seen.length; ++i)
        for (let k = i + 1; k < seen.length && seen[k].box.top < seen[i].box.bottom; ++k) {
            const a = seen[i], b = seen[k];
            if (a.node === b.node || a.svg !== b.svg) continue;
            const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
            const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
            const slack = 0.3 * Math.min(a.box.height, b.box.height, a.box.width, b.box.width);
            if (across > Math.max(1.5, slack) && down > Math.max(1.5, slack))
                faults.add(`overlap: ${quoted(a.node.data)} and ${quoted(b.node.data)}`);
        }

    // Contrast: relative luminance and ratio as WCAG 2.1 defines them.
    const parsed = (colour) => {
        const parts = /rgba?\(([^)]*)\)/.exec(colour);
        if (!parts) return null;
        const [r, g, b, a = 1] = parts[1].split(/[,/ ]+/).map(Number);
        return {r, g, b, a};
    };
    const over = (top, below) => ({r: top.r * top.a + below.r * (1 - top.a), g: top.g * top.a + below.g * (1 - top.a),
                                   b: top.b * top.a + below.b * (1 - top.a), a: 1});
    const luminance = ({r, g, b}) => [r, g, b].map((c) => c / 255)
        .map((c) => (c <= 0.03928 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4))
        .reduce((sum, c, i) => sum + c * [0.2126, 0.7152, 0.0722][i], 0);
    const ratio = (a, b) => {
        const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
        return (high + 0.05) / (low + 0.05);
    };
    const canvas = parsed(getComputedStyle(document.body).backgroundColor);
    const page = canvas && canvas.a > 0 ? canvas : {r: 255, g: 255, b: 255, a: 1};
    const behind = (text) => {
        const layers = [];
        if (!text.svg) {
            for (let e = text.parent; e; e = e.parentElement) layers.push(parsed(getComputedStyle(e).backgroundColor));
        } else {
            const middle = () => text.parent.getBoundingClientRect();
            text.parent.scrollIntoView({block: 'nearest', inline: 'center'}); // nothing is found out of sight
            const x = middle().left + middle().width / 2, y = middle().top + middle().height / 2;
            const own = getComputedStyle(text.parent);
            if (own.stroke !== 'none' && own.paintOrder.startsWith('stroke')) return parsed(own.stroke); // its edge
            for (const e of document.elementsFromPoint(x, y)) {
                if (e.closest('text') || e.tagName === 'svg' || !e.closest('svg')) continue;
                const style = getComputedStyle(e), fill = parsed(style.fill);
                if (fill) layers.push({...fill, a: fill.a * Number(style.fillOpacity)});
            }
        }
        return layers.filter((l) => l && l.a > 0).reduceRight((below, top) => over(top, below), page);
    };
    for (const text of seen) {
        const style = getComputedStyle(text.parent);
        const colour = parsed(text.svg ? style.fill : style.color);
        if (!colour) continue;
        const size = parseFloat(style.fontSize), bold = Number(style.fontWeight) >= 700;
        const least = !text.svg && (size >= 24 || (bold && size >= 18.66)) ? 3 : 4.5;
        const found = ratio(colour, behind(text));
        if (found < least) faults.add(`contrast: ${found.toFixed(2)} of ${quoted(text.node.data)}, below ${least}`);
    }
    parent.postMessage({page: name, width: innerWidth, texts: seen.length, faults: [...faults].slice(0, 20)}, '*');
});
