# Whether the pins' contact is solved, and the stresses that follow from it.


def has_contact(arm):
    """Whether the arm's file names fits without a bush: their pins' contact is solved."""
    bores = sections(arm).get("bores")
    fits = bores.get("fits") if isinstance(bores, dict) else None
    named = fits.values() if isinstance(fits, dict) else ()
    return any("bush" not in fit for fit in named if isinstance(fit, dict))


def contact_of(wildcards, *names):
    """Files of the pins' contact, where it is solved."""
    place = f"results/{wildcards.arm}/as-written/bores/"
    return [place + name for name in names] if has_contact(wildcards.arm) else []


def contact_shown(wildcards):
    return contact_of(wildcards, "contact.csv", "contact-field.csv", "pictures/contact.png")


def stresses(wildcards):
    """Mesh and stresses that the life of the arm's own bores rests on: with contact where that is solved."""
    plain = [f"results/{wildcards.arm}/as-written/{name}" for name in ("arm.msh", "stress.vtu")]
    return contact_of(wildcards, "contact.msh", "stress-fit.vtu") or plain


def stresses_compared(wildcards):
    """The same and those of the fits set beside the arm's own."""
    return stresses(wildcards) + contact_of(wildcards, "stress-compare.vtu")


def stresses_coarser(wildcards):
    """Those on the coarser mesh, which say what has settled."""
    names = ("contact.msh", "stress-fit.vtu", "stress-compare.vtu")
    return contact_of(wildcards, *(f"coarser/{name}" for name in names))


def stresses_coarser_own(wildcards):
    """Of these the arm's own fits alone."""
    return contact_of(wildcards, "coarser/contact.msh", "coarser/stress-fit.vtu")


def stresses_explained(wildcards):
    """Those that why a crack was found rests on: of the old arm's fits too where the file tells them, on both meshes."""
    if (sections(wildcards.arm).get("cracks") or {}).get("old_arm"):
        return stresses_compared(wildcards) + stresses_coarser(wildcards)
    return stresses(wildcards) + stresses_coarser_own(wildcards)
