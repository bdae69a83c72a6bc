/* Files appear whole or not at all: written beside the target, then put in place by link or rename. */
#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "sagband/write.h"

struct sag_out {
    FILE *stream;
    char *path, *temporary; /* NULL for standard output */
    bool force;
};

static enum sag_status complain(struct sag_diags *diags, const char *path, const char *what, const char *why)
{
    struct sag_shown shown;
    sag_complain(diags, SAG_ERROR, &(struct sag_place){0}, "%s: %s%s%s", sag_shown(&shown, path, strlen(path)), what,
                 *why ? ": " : "", why);
    return SAG_IO;
}

static enum sag_status open_beside(struct sag_out *out, struct sag_diags *diags)
{
    struct stat there;
    if (!out->force && lstat(out->path, &there) == 0)
        return complain(diags, out->path, "exists already; --force overwrites it", "");
    int file = mkstemp(out->temporary);
    if (file < 0)
        return complain(diags, out->path, "cannot be written", strerror(errno));
    /* mkstemp keeps others out; the finished file gets the rights any new file has */
    mode_t mask = umask(0);
    umask(mask);
    fchmod(file, 0666 & ~mask);
    out->stream = fdopen(file, "w");
    if (!out->stream) {
        close(file);
        unlink(out->temporary);
        return complain(diags, out->path, "cannot be written", strerror(errno));
    }
    return SAG_OK;
}

enum sag_status sag_out_open(struct sag_out **opened, const char *path, bool force, struct sag_diags *diags)
{
    struct sag_out *out = calloc(1, sizeof *out);
    *opened = NULL;
    if (!out)
        return SAG_NO_MEMORY;
    out->force = force;
    enum sag_status status = SAG_OK;
    if (!path || strcmp(path, "-") == 0) {
        out->stream = stdout;
    } else {
        size_t length = strlen(path);
        out->path = strdup(path);
        out->temporary = malloc(length + sizeof ".XXXXXX");
        if (!out->path || !out->temporary) {
            status = SAG_NO_MEMORY;
        } else {
            snprintf(out->temporary, length + sizeof ".XXXXXX", "%s.XXXXXX", path);
            status = open_beside(out, diags);
        }
    }
    if (status == SAG_OK) {
        *opened = out;
        return SAG_OK;
    }
    free(out->path);
    free(out->temporary);
    free(out);
    return status;
}

FILE *sag_out_stream(struct sag_out *out)
{
    return out->stream;
}

static void release(struct sag_out *out)
{
    free(out->path);
    free(out->temporary);
    free(out);
}

/* link() refuses to replace what appeared meanwhile; a folder without hard links gets rename(). */
static int put_in_place(const struct sag_out *out)
{
    if (out->force)
        return rename(out->temporary, out->path);
    if (link(out->temporary, out->path) == 0) {
        unlink(out->temporary);
        return 0;
    }
    if (errno == EEXIST)
        return -1;
    return rename(out->temporary, out->path);
}

enum sag_status sag_out_commit(struct sag_out *out, struct sag_diags *diags)
{
    enum sag_status status = SAG_OK;
    bool failed = fflush(out->stream) != 0 || ferror(out->stream);
    const char *why = failed ? strerror(errno) : "";
    if (!out->path) {
        if (failed)
            status = complain(diags, "standard output", "could not be written to its end", why);
        release(out);
        return status;
    }
    if (!failed && fsync(fileno(out->stream)) != 0 && errno != EINVAL) {
        failed = true;
        why = strerror(errno);
    }
    if (fclose(out->stream) != 0 && !failed) {
        failed = true;
        why = strerror(errno);
    }
    if (!failed && put_in_place(out) != 0) {
        failed = true;
        why = strerror(errno);
    }
    if (failed) {
        unlink(out->temporary);
        status = complain(diags, out->path, "could not be written", why);
    }
    release(out);
    return status;
}

void sag_out_drop(struct sag_out *out)
{
    if (!out)
        return;
    if (out->path) {
        fclose(out->stream);
        unlink(out->temporary);
    }
    release(out);
}

enum sag_status sag_out_folder(const char *path, struct sag_diags *diags)
{
    struct stat there;
    if (mkdir(path, 0777) == 0)
        return SAG_OK;
    int why = errno;
    if (why == EEXIST && stat(path, &there) == 0 && S_ISDIR(there.st_mode))
        return SAG_OK;
    return complain(diags, path, "cannot be used as a folder", strerror(why));
}
