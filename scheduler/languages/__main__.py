"""``python -m scheduler.languages`` brings template and catalogues in step with the code."""

from scheduler.languages.template import update

if __name__ == "__main__":
    for language, lacking in update().items():
        print(f"{language}: {lacking or 'no'} texts lack a translation.")
