"""Text that tries to break out of a page."""

import json

LONG = "W" * 240
HOSTILE = (
    '<img src=x onerror="alert(1)"> "quoted" & \'single\' </script><script>document.title="owned"</script> '
    f"{LONG} \u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627 \U0010fffd \ue000 <b>bold</b>"
)


def hostile(text: str) -> str:
    """The demo arm with a description and a caution that try to break out."""
    lines = [
        f"{key}: {json.dumps(HOSTILE, ensure_ascii=False)}"
        if (key := line.split(":")[0]) in ("description", "caution")
        else line
        for line in text.splitlines()
    ]
    return "\n".join(lines) + "\n"
